import { FluentProvider, webLightTheme } from "@fluentui/react-components";
import type { ReactNode } from "react";
import { renderToStaticMarkup } from "react-dom/server";
import { beforeAll, describe, expect, test } from "vitest";
import { analysisFrom } from "../../../functions/runtime/analyses.ts";
import { REFERENCES, fullReference } from "../../../src/catalogue/references.ts";
import { InputError } from "../../../src/errors.ts";
import { TESTS } from "../../../src/protocols/Protocol.ts";
import { syntheticTrial } from "../../../src/synthetic/syntheticTrial.ts";
import { packTrace } from "../../../src/trace/packTrace.ts";
import type { AnalysedTrial } from "../../../taskpane/pane/analyseTrial.ts";
import { AboutView } from "../../../taskpane/pane/AboutView.tsx";
import { BringInView } from "../../../taskpane/pane/BringInView.tsx";
import { CautionList } from "../../../taskpane/pane/CautionList.tsx";
import { CellView } from "../../../taskpane/pane/ExplainView.tsx";
import { MessageStrip } from "../../../taskpane/pane/MessageStrip.tsx";
import { PaneContext, type PaneTools } from "../../../taskpane/pane/PaneContext.tsx";
import { RunningSheet } from "../../../taskpane/pane/plan/RunningSheet.tsx";
import { PlanView } from "../../../taskpane/pane/PlanView.tsx";
import { sentenceOf } from "../../../taskpane/pane/sentenceOf.ts";
import { SettingItem } from "../../../taskpane/pane/SettingsView.tsx";
import { UnitsSection } from "../../../taskpane/pane/UnitsSection.tsx";
import { SETTINGS } from "../../../src/settings/definitions.ts";
import { TeachView } from "../../../taskpane/pane/TeachView.tsx";
import { TrialLine } from "../../../taskpane/pane/TrialLine.tsx";
import { TrialPage } from "../../../taskpane/pane/TrialPage.tsx";
import { TrialsView } from "../../../taskpane/pane/TrialsView.tsx";
import { speakMarked, unmarked } from "../../support/markedLanguage.ts";

/** Nothing is asked of the sheet while a view is drawn for the first time. */
const never = (): Promise<never> => new Promise(() => undefined);
const TOOLS = {
  host: { onChange: () => () => undefined, onSelection: () => () => undefined, selection: never, settled: never, tables: never, sheets: never },
  workbook: new Proxy({}, { get: () => never }),
  say: () => undefined, perform: never, go: () => undefined, openTrial: () => undefined, showCell: never,
} as unknown as PaneTools;

function drawn(view: ReactNode): string {
  return renderToStaticMarkup(
    <FluentProvider theme={webLightTheme}>
      <PaneContext.Provider value={TOOLS}>{view}</PaneContext.Provider>
    </FluentProvider>,
  );
}

/** Every text that a person sees or hears: between tags, and in the attributes that are read out or shown. */
function textsIn(markup: string): readonly string[] {
  const shown = markup.replace(/<style[\s\S]*?<\/style>|<math[\s\S]*?<\/math>|<code[\s\S]*?<\/code>/g, "").replace(/<(sub|sup)>(.*?)<\/\1>/g, "_$2");
  const attributes = [...shown.matchAll(/ (?:aria-label|title|placeholder|alt)="([^"]*)"/g)].map((match) => match[1]);
  const between = shown.split(/<[^>]*>/);
  return [...attributes, ...between].map((text) => text.replaceAll("&quot;", '"').replaceAll("&#x27;", "'").replaceAll("&amp;", "&").trim()).filter((text) => text !== "");
}

/** Literature keeps the language it was written in; so do names, files, protocols as they are written in cells, units and symbols (one is the word load). */
const OWN = new Set([...Object.keys(REFERENCES).map(fullReference), "Robin Vale", "cmj 1.csv"]);
const NO_WORDS = /\bmax\b|Mar 14, 2026|^load$| \([^()]*\(\d{4}\w?\)\)|\b[a-z]+[A-Z]\w+|CMJ arms=hips|\b(?:CMJ|SJ|DJ|RH|IMTP|LEAP\.\w+|Hz|Results!\w+)\b|[a-z]\w*_\w+|\b[A-Z]{3}\b/g;

/** Texts with a word of three letters outside the marks: nobody can translate those. */
function untranslated(markup: string): readonly string[] {
  return textsIn(markup).filter((text) => !OWN.has(text) && /\p{L}{3,}/u.test(unmarked(text).replaceAll("Robin Vale", "").replaceAll("cmj 1.csv", "").replace(NO_WORDS, "")));
}

describe("the pane in another language", () => {
  let trial: AnalysedTrial;
  beforeAll(async () => {
    await speakMarked();
    const { trace } = syntheticTrial({ test: "CMJ", seed: 4, mass: 68, height: 0.3, faults: { noise: 3, offset: [20, 25] } });
    const packed = packTrace(trace);
    const analysis = analysisFrom([packed], "CMJ arms=hips", undefined, undefined, undefined);
    trial = {
      row: { key: "a@0", row: 1, athlete: "Robin Vale", date: "2026-03-14", protocol: "CMJ arms=hips", test: "CMJ", adjust: "onset=1.7", keep: "", reason: "", file: "cmj 1.csv", startInFile: 0, rate: 1000, packed },
      analysis, verdict: analysis.verdict, use: "keep", doubtful: true, decidedBy: "verdict",
    };
  }, 60_000);

  const plan = TESTS.map((name) => ({ athlete: "Robin Vale", date: "2026-03-14", protocol: name === "IMTP" ? { test: name } : { test: name, arms: "hips" as const }, trial: 1, of: 3, rest: 60 }));

  test.each<[string, () => ReactNode]>([
    ["Plan", () => <PlanView />],
    ["the running sheet and its cards", () => <RunningSheet steps={plan as never} />],
    ["Bring in", () => <BringInView />],
    ["Trials", () => <TrialsView />],
    ["a line of Trials", () => <TrialLine id="a" trial={trial} number={1} reachable onOpen={() => undefined} onDecide={() => undefined} />],
    ["a trial that is left out by a person", () => <TrialLine id="a" trial={{ ...trial, use: "leave out", row: { ...trial.row, keep: "leave out" } }} number={1} reachable onOpen={() => undefined} onDecide={() => undefined} />],
    ["the page of a trial", () => <TrialPage trial={trial} others={[trial]} onBack={() => undefined} onDecide={() => undefined} />],
    ["every setting", () => SETTINGS.map((definition) => <SettingItem key={definition.id} definition={definition} styles={{} as never} onChange={never} onShow={() => undefined} />)],
    ["the units", () => <UnitsSection />],
    ["Teach", () => <TeachView />],
    ["About", () => <AboutView />],
    ["the cautions of each test", () => TESTS.map((name) => <CautionList key={name} test={name} withResults />)],
    ["a message that can be undone", () => <MessageStrip message={{ kind: "done", text: "", applied: { label: "New sheets", id: 1 } }} onClose={() => undefined} onUndo={() => undefined} />],
  ])("says everything of %s in it", (_, view) => {
    const markup = drawn(view());
    expect(textsIn(markup).length).toBeGreaterThan(1);
    expect(untranslated(markup)).toEqual([]);
  });

  test.each(["jumpHeight cm", "peakForceLeftRelative", "rsiModified", "rsi"])("explains %s in it", (name) => {
    const call = { index: 0, name: "METRIC", start: 1, end: 20, depth: 0, args: [] };
    const cell = { sheet: "Results", row: 1, column: 5 };
    const one = { call, record: { cell: "Results!F2", call: 0, name: "METRIC", args: [], result: 34, analysisKey: "k" } as never, analysis: trial.analysis, metricNames: [name], chosen: 0 };
    const markup = drawn(<CellView explanation={{ cell, anchor: cell, formula: "=LEAP.METRIC(A1)", parts: [], calls: [one], value: 34, calculated: true }} onKeep={() => undefined} styles={{} as never} />);
    expect(textsIn(markup).length).toBeGreaterThan(20);
    expect(untranslated(markup)).toEqual([]);
  });

  test("says what was thrown in it, with its place", () => {
    expect(unmarked(sentenceOf(new InputError("not-a-number", "a trace requires finite force values", "cell 3")))).not.toMatch(/\p{L}{2}/u);
  });

  // The look-out itself: a text that is in no table must be seen.
  test("would show a text that is in no table", () => {
    expect(untranslated(drawn(<p title="Hidden words">Robin Vale jumps</p>))).toEqual(["Hidden words", "Robin Vale jumps"]);
  });
});
