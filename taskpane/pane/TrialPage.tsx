import { useEffect, useMemo, useRef, useState, type ReactNode } from "react";
import { Button, Checkbox, makeStyles, mergeClasses, tokens } from "@fluentui/react-components";
import { ArrowLeft20Regular, ChevronLeft20Regular, ChevronRight20Regular } from "@fluentui/react-icons";
import { formatAdjust } from "../../src/protocols/formatAdjust.ts";
import { parseAdjust } from "../../src/protocols/parseAdjust.ts";
import type { EventName, MetricValue } from "../../src/protocols/Analysis.ts";
import { plotDataOf } from "../plots/plotDataOf.ts";
import type { AnalysedTrial } from "./analyseTrial.ts";
import { FindingList } from "./FindingList.tsx";
import { formatDate } from "./format.ts";
import { FIRST_NUMBERS } from "./headline.ts";
import { HopTable } from "./HopTable.tsx";
import { NumbersTable } from "./NumbersTable.tsx";
import { alignedAt, OverlayPlotView } from "./OverlayPlotView.tsx";
import { usePane } from "./PaneContext.tsx";
import { protocolWords } from "./protocolWords.ts";
import { RecordedDifferences } from "./RecordedDifferences.tsx";
import { Section } from "./SectionHead.tsx";
import { PLOT_NAMES } from "./texts.ts";
import { useUnits } from "./useUnits.tsx";
import { TracePlotView } from "./TracePlotView.tsx";
import { Verdict } from "./Verdict.tsx";
import { words } from "./words.ts";

const useStyles = makeStyles({
  bar: { display: "flex", alignItems: "center", justifyContent: "space-between", gap: "4px", marginBottom: "8px" },
  title: { margin: "0", fontSize: tokens.fontSizeBase400, lineHeight: tokens.lineHeightBase400, fontWeight: tokens.fontWeightSemibold, overflowWrap: "anywhere", outlineOffset: "2px" },
  under: { margin: "2px 0 8px", color: tokens.colorNeutralForeground2, fontSize: tokens.fontSizeBase200, overflowWrap: "anywhere" },
  keys: { "@media (pointer: coarse)": { display: "none" } },
  verdict: { display: "flex", fontSize: tokens.fontSizeBase200, flexWrap: "wrap", alignItems: "center", gap: "6px 12px", marginBottom: "12px" },
  choices: { display: "flex", gap: "4px" },
});

export interface TrialPageProps {
  readonly trial: AnalysedTrial;
  /** The athlete's other trials. */
  readonly others: readonly AnalysedTrial[];
  readonly onBack: () => void;
  readonly onPrevious?: () => void;
  readonly onNext?: () => void;
  readonly onDecide: (choice: "keep" | "leave out" | "") => void;
}

/** One trial, large: plot with events that can be moved, findings, numbers, the athlete's other trials. */
export function TrialPage({ trial, others, onBack, onPrevious, onNext, onDecide }: TrialPageProps): ReactNode {
  const styles = useStyles();
  const { workbook, perform, showCell } = usePane();
  const units = useUnits();
  const { row, analysis } = trial;
  const [overlay, setOverlay] = useState(false);
  const head = useRef<HTMLHeadingElement>(null);
  const data = useMemo(() => (analysis === undefined ? undefined : plotDataOf(analysis, PLOT_NAMES)), [analysis]);

  useEffect(() => head.current?.focus(), []);

  const move = (eventId: string, time?: number): void => {
    const event = PLOT_NAMES.event(eventId);
    void perform(
      () => {
        const facts = parseAdjust(row.adjust);
        const events = new Map(facts.events);
        if (time === undefined) events.delete(eventId as EventName);
        else events.set(eventId as EventName, Math.round(time * 1e4) / 1e4);
        return workbook.setAdjust(row.key, formatAdjust({ ...facts, events }));
      },
      time === undefined ? words.trials.backAt(event) : words.trials.moved(event),
    );
  };
  const jump = async (): Promise<void> => {
    const cell = (await workbook.resultCell(row.key)) ?? (await workbook.trialCell(row.key));
    if (cell !== undefined) await showCell(cell);
  };
  const alike = others.filter((other) => other.row.protocol === row.protocol);
  const numbers = analysis === undefined ? [] : FIRST_NUMBERS[analysis.protocol.test].flatMap((id) => analysis.metrics.get(id) ?? []);
  const all: readonly MetricValue[] = analysis === undefined ? [] : [...analysis.metrics.values()];
  const name = `${row.athlete}, ${protocolWords(row.protocol, units)}`;

  return (
    <div
      onKeyDown={(key) => {
        if (key.key === "Escape" && !key.defaultPrevented) onBack();
        if (key.ctrlKey || key.altKey || key.metaKey || (key.target as HTMLElement).closest("input, select, textarea") !== null) return;
        const act = ({ ArrowLeft: onPrevious, ArrowRight: onNext, k: () => onDecide("keep"), x: () => onDecide("leave out"), f: () => onDecide("") } as Readonly<Record<string, (() => void) | undefined>>)[key.key.length === 1 ? key.key.toLowerCase() : key.key];
        if (act === undefined) return;
        key.preventDefault();
        act();
      }}
    >
      <div className={styles.bar}>
        <Button size="small" appearance="subtle" icon={<ArrowLeft20Regular />} onClick={onBack}>
          {words.trials.back}
        </Button>
        <span>
          <Button size="small" appearance="subtle" icon={<ChevronLeft20Regular />} aria-label={words.trials.previous} title={words.trials.previous} disabledFocusable={onPrevious === undefined} onClick={onPrevious} />
          <Button size="small" appearance="subtle" icon={<ChevronRight20Regular />} aria-label={words.trials.next} title={words.trials.next} disabledFocusable={onNext === undefined} onClick={onNext} />
        </span>
      </div>
      <h1 className={styles.title} ref={head} tabIndex={-1}>
        {name}
      </h1>
      <p className={styles.under}>{[formatDate(row.date), row.file, row.rate > 0 ? `${row.rate} Hz` : ""].filter((text) => text !== "").join(" \u00b7 ")}</p>
      <div className={styles.verdict}>
        <span>
          <Verdict verdict={row.keep === "" ? trial.verdict : row.keep} /> {row.keep === "" ? words.trials.byRule : words.trials.byPerson}
          {row.keep === "leave out" && row.reason !== "" ? `: ${row.reason}` : ""}
        </span>
        <span className={styles.choices}>
          <Button size="small" appearance={row.keep === "keep" ? "primary" : "secondary"} aria-pressed={row.keep === "keep"} onClick={() => onDecide(row.keep === "keep" ? "" : "keep")}>
            {words.trials.keep}
          </Button>
          <Button size="small" appearance={row.keep === "leave out" ? "primary" : "secondary"} aria-pressed={row.keep === "leave out"} onClick={() => onDecide(row.keep === "leave out" ? "" : "leave out")}>
            {words.trials.leaveOut}
          </Button>
        </span>
      </div>
      <p className={mergeClasses(styles.under, styles.keys)}>{words.trials.pageKeys}</p>
      {trial.problem !== undefined && <p role="alert">{trial.problem}</p>}
      {analysis !== undefined && data === undefined && <p>{words.trials.times}</p>}
      {data !== undefined && <TracePlotView data={data} title={name} onMove={move} />}
      {analysis !== undefined && (
        <>
          <Section heading={words.trials.findings}>
            <FindingList findings={analysis.findings} />
          </Section>
          {analysis.hops.length > 0 && (
            <Section heading={words.trials.hops}>
              <HopTable hops={analysis.hops} />
            </Section>
          )}
          <Section heading={words.trials.numbers}>
            <NumbersTable metrics={numbers} />
            <details style={{ marginTop: 8 }}>
              <summary>
                {words.trials.allNumbers} ({all.length})
              </summary>
              <NumbersTable metrics={all} />
            </details>
          </Section>
          <RecordedDifferences trial={trial} />
          {alike.length > 0 && analysis.events.has(alignedAt(trial)) && (
            <Section heading={words.trials.others}>
              <Checkbox checked={overlay} onChange={(_, state) => setOverlay(state.checked === true)} label={words.trials.compareAt(PLOT_NAMES.event(alignedAt(trial)).toLocaleLowerCase())} />
              {overlay && <OverlayPlotView trial={trial} others={alike} />}
            </Section>
          )}
        </>
      )}
      <p>
        <Button size="small" onClick={() => void jump()}>
          {words.trials.showInSheet}
        </Button>
      </p>
    </div>
  );
}
