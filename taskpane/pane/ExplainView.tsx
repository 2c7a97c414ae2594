import { useEffect, useMemo, useState, type ReactNode } from "react";
import { Button, Field, makeStyles, mergeClasses, Select, Spinner, tokens } from "@fluentui/react-components";
import { Copy16Regular, ImageCopy20Regular } from "@fluentui/react-icons";
import type { CutRange, CutText } from "../../functions/runtime/callRecord.ts";
import { formatProtocol } from "../../src/protocols/formatProtocol.ts";
import { likeProtocols } from "../../src/protocols/likeProtocols.ts";
import type { Analysis } from "../../src/protocols/Analysis.ts";
import { inLanguage } from "../../src/wording/inLanguage.ts";
import type { CellExplanation, ExplainedCall } from "../explain/explainCell.ts";
import { explainMetric, type MetricExplanation } from "../explain/explainMetric.ts";
import { explanationParts } from "../explain/explanationParts.ts";
import { explanationPicture } from "../explain/explanationPicture.ts";
import { explanationText } from "../explain/explanationText.ts";
import type { CellValue } from "../host/SheetHost.ts";
import { plotDataOf } from "../plots/plotDataOf.ts";
import { cellName, fullCellName } from "./cellName.ts";
import { FindingList } from "./FindingList.tsx";
import { formatNumber, formatValue } from "./format.ts";
import { functionHelp, type FunctionHelp } from "./functionHelp.ts";
import { MetricExplanationView, MetricTexts } from "./MetricExplanationView.tsx";
import { sentenceOf, usePane } from "./PaneContext.tsx";
import { Section, ViewTitle } from "./SectionHead.tsx";
import { fileNameOf, saveFile } from "./teach/saveFile.ts";
import { metricName, plotAxes, PLOT_NAMES } from "./texts.ts";
import { TracePlotView } from "./TracePlotView.tsx";
import { useExplanation } from "./useExplanation.ts";
import { useUnits } from "./useUnits.tsx";
import { CautionList } from "./CautionList.tsx";
import { words } from "./words.ts";

const useStyles = makeStyles({
  cell: { margin: "0 0 4px", fontSize: tokens.fontSizeBase400, lineHeight: tokens.lineHeightBase400, fontWeight: tokens.fontWeightSemibold, overflowWrap: "anywhere" },
  quiet: { margin: "0 0 4px", color: tokens.colorNeutralForeground2, fontSize: tokens.fontSizeBase200 },
  formula: { display: "block", padding: "6px 8px", borderRadius: tokens.borderRadiusMedium, backgroundColor: tokens.colorNeutralBackground3, fontFamily: tokens.fontFamilyMonospace, fontSize: tokens.fontSizeBase200, overflowWrap: "anywhere", whiteSpace: "pre-wrap" },
  part: { color: tokens.colorNeutralForeground1, backgroundColor: "transparent" },
  other: { textDecorationLine: "underline", textDecorationStyle: "dotted", cursor: "pointer" },
  chosen: { backgroundColor: tokens.colorBrandBackground2, color: tokens.colorNeutralForeground1, fontWeight: tokens.fontWeightSemibold, borderRadius: tokens.borderRadiusSmall },
  error: { padding: "8px", borderRadius: tokens.borderRadiusMedium, backgroundColor: tokens.colorStatusWarningBackground1, color: tokens.colorNeutralForeground1, margin: "8px 0" },
  value: { fontSize: tokens.fontSizeBase500, lineHeight: tokens.lineHeightBase500, fontWeight: tokens.fontWeightSemibold, fontVariantNumeric: "tabular-nums", overflowWrap: "anywhere" },
  table: { width: "100%", borderCollapse: "collapse", "& th, & td": { padding: "3px 4px", textAlign: "left", verticalAlign: "top", borderBottom: `1px solid ${tokens.colorNeutralStroke3}`, overflowWrap: "anywhere" }, "& th": { fontWeight: tokens.fontWeightRegular } },
  buttons: { display: "flex", flexWrap: "wrap", gap: "6px", marginTop: "12px" },
});

interface Kept {
  readonly cell: string;
  readonly explanation: MetricExplanation;
  readonly analysis: Analysis;
}

/** Explains the selected cell with its own numbers. */
export function ExplainView(): ReactNode {
  const styles = useStyles();
  const { cell, explanation, problem, working } = useExplanation();
  const [kept, setKept] = useState<Kept | undefined>();
  return (
    <>
      {explanation === undefined && <ViewTitle>{words.explain.title}</ViewTitle>}
      {working !== undefined && <Spinner size="tiny" label={words.explain.calculating(fullCellName(working))} labelPosition="after" />}
      {problem !== undefined && <p role="alert">{problem}</p>}
      {explanation === undefined && problem === undefined && working === undefined && <p>{cell === undefined ? words.explain.nothing : `${words.explain.plain(fullCellName(cell))}. ${words.explain.nothing}.`}</p>}
      {explanation !== undefined && <CellView key={`${fullCellName(explanation.cell)} ${explanation.formula}`} explanation={explanation} kept={kept} onKeep={setKept} styles={styles} />}
    </>
  );
}

export interface CellViewProps {
  readonly explanation: CellExplanation;
  readonly kept?: Kept;
  readonly onKeep: (kept: Kept | undefined) => void;
  readonly styles: ReturnType<typeof useStyles>;
}

/** A cell taken apart, with its calls to choose among. */
export function CellView({ explanation, kept, onKeep, styles }: CellViewProps): ReactNode {
  const { say, showCell } = usePane();
  const units = useUnits();
  const { cell, anchor, parts, calls, value } = explanation;
  const [callIndex, setCallIndex] = useState(() => firstToShow(calls));
  const [choice, setChoice] = useState<number | undefined>();
  const [help, setHelp] = useState<ReadonlyMap<string, FunctionHelp>>(new Map());
  useEffect(() => void functionHelp().then(setHelp), []);
  const one = calls[callIndex] ?? calls[0];
  const nameAt = choice ?? one.chosen;
  const name = one.metricNames[nameAt];
  const metric = useMemo(() => metricOf(one, name), [one, name]);
  const error = typeof value === "object" ? value : undefined;
  const spilled = cell.row !== anchor.row || cell.column !== anchor.column;
  const plot = useMemo(() => (one.analysis === undefined ? undefined : plotDataOf(one.analysis, PLOT_NAMES)), [one.analysis]);
  const about = help.get(one.call.name);

  const copy = async (): Promise<void> => {
    try {
      await navigator.clipboard.writeText(explanationText(explanation, one, units, metric?.explanation));
      say({ kind: "done", text: words.explain.copied });
    } catch {
      say({ kind: "problem", text: words.explain.copyFailed });
    }
  };

  const copyPicture = async (): Promise<void> => {
    const picture = explanationPicture(explanationParts(explanation, one, units, metric?.explanation), plotAxes(units), plot);
    try {
      // The clipboard takes the promise: some browsers only listen during the click itself.
      await navigator.clipboard.write([new ClipboardItem({ "image/png": picture })]);
      say({ kind: "done", text: words.explain.pictureCopied });
    } catch {
      try {
        saveFile(`${fileNameOf(`${fullCellName(cell)} ${name ?? one.call.name}`)}.png`, new Uint8Array(await (await picture).arrayBuffer()), "image/png");
        say({ kind: "done", text: words.explain.pictureSaved });
      } catch (thrown) {
        say({ kind: "problem", text: sentenceOf(thrown) });
      }
    }
  };

  return (
    <>
      <h1 className={styles.cell}>{fullCellName(cell)}</h1>
      {spilled && (
        <p className={styles.quiet}>
          {words.explain.spillOf(cellName(anchor))}{" "}
          <Button size="small" appearance="transparent" onClick={() => void showCell(anchor)}>
            {words.trials.showInSheet}
          </Button>
        </p>
      )}
      <code className={styles.formula} aria-label={words.explain.formula}>
        {parts.map((part, place) => (
          <span
            key={place}
            className={mergeClasses(styles.part, part.call !== undefined && (part.call === one.call.index ? styles.chosen : styles.other))}
            onClick={() => {
              if (part.call === undefined) return;
              setCallIndex(part.call);
              setChoice(undefined);
            }}
          >
            {part.text}
          </span>
        ))}
      </code>
      {calls.length > 1 && (
        <Field label={words.explain.calls} size="small" style={{ marginTop: 8 }}>
          <Select
            size="small" value={String(callIndex)}
            onChange={(_, data) => {
              setCallIndex(Number(data.value));
              setChoice(undefined);
            }}
          >
            {calls.map((each) => (
              <option key={each.call.index} value={each.call.index}>
                {words.explain.call(each.call.index + 1, each.call.name)}
              </option>
            ))}
          </Select>
        </Field>
      )}
      {error !== undefined && (
        <div className={styles.error} role="note">
          <strong>{error.error}</strong> {error.message !== undefined && error.message !== "" ? sentenceOf(error.message) : ""}
        </div>
      )}
      {!explanation.calculated && <p>{words.explain.notCalculated}.</p>}
      {explanation.calculated && one.record === undefined && <p>{words.explain.skipped}.</p>}
      {one.metricNames.length > 1 && (
        <Field label={words.explain.choose} size="small" style={{ marginTop: 8 }}>
          <Select size="small" value={String(nameAt)} onChange={(_, data) => setChoice(Number(data.value))}>
            {nameAt < 0 && <option value="-1">{"\u2013"}</option>}
            {one.metricNames.map((each, place) => (
              <option key={`${each} ${place}`} value={place}>
                {metricName(each)}
              </option>
            ))}
          </Select>
        </Field>
      )}

      {metric?.explanation !== undefined && one.analysis !== undefined && <MetricExplanationView explanation={metric.explanation} said={error?.message} />}
      {metric?.problem !== undefined && <p>{metric.problem}</p>}
      {metric === undefined && name === undefined && error === undefined && (
        <>
          {words.explain.functions[one.call.name] !== undefined || about !== undefined ? <p>{words.explain.functions[one.call.name] ?? inLanguage(about?.description ?? "")}</p> : null}
          {one.metricNames.length > 0 && <p className={styles.quiet}>{words.explain.textCell}</p>}
          {typeof value !== "object" && value !== "" && <p className={styles.value}>{typeof value === "number" ? formatNumber(value, 4) : String(value)}</p>}
        </>
      )}
      {one.analysis === undefined && name !== undefined && one.record !== undefined && <ClosedForm one={one} name={name} help={about} value={value} styles={styles} />}

      {plot !== undefined && (
        <Section heading={words.explain.trace}>
          <TracePlotView data={plot} title={`${fullCellName(cell)} ${name ?? one.call.name}`} small />
        </Section>
      )}
      {one.analysis !== undefined && (
        <>
          <Section heading={words.explain.findings}>
            <FindingList findings={one.analysis.findings} />
          </Section>
          <p className={styles.quiet}>
            {formatProtocol(one.analysis.protocol)} {"\u00b7"} {words.explain.settingsDigest(one.analysis.settings.digest)}
          </p>
        </>
      )}
      {metric?.explanation !== undefined && <MetricTexts metric={metric.explanation.metric} />}
      {kept !== undefined && metric?.explanation?.value !== undefined && one.analysis !== undefined && kept.explanation.value !== undefined && (
        <Comparison kept={kept} cell={fullCellName(cell)} explanation={metric.explanation} analysis={one.analysis} styles={styles} />
      )}
      <div className={styles.buttons}>
        <Button size="small" icon={<Copy16Regular />} onClick={() => void copy()}>
          {words.explain.copy}
        </Button>
        <Button size="small" icon={<ImageCopy20Regular />} onClick={() => void copyPicture()}>
          {words.explain.copyPicture}
        </Button>
        {metric?.explanation?.value !== undefined && one.analysis !== undefined && (
          <Button size="small" onClick={() => onKeep({ cell: fullCellName(cell), explanation: metric.explanation!, analysis: one.analysis! })}>
            {words.explain.compare}
          </Button>
        )}
        {kept !== undefined && (
          <Button size="small" appearance="subtle" onClick={() => onKeep(undefined)}>
            {words.explain.stopComparing}
          </Button>
        )}
      </div>
      <CautionList test={one.analysis?.protocol.test} withResults />
    </>
  );
}

/** The first call that was reached and reads a metric; else the first that was reached. */
function firstToShow(calls: readonly ExplainedCall[]): number {
  const metric = calls.findIndex((one) => one.record !== undefined && one.metricNames.length > 0);
  return metric >= 0 ? metric : Math.max(calls.findIndex((one) => one.record !== undefined), 0);
}

function metricOf(one: ExplainedCall, name: string | undefined): { readonly explanation?: MetricExplanation; readonly problem?: string } | undefined {
  if (one.analysis === undefined || name === undefined) return undefined;
  try {
    return { explanation: explainMetric(one.analysis, name) };
  } catch (thrown) {
    return { problem: sentenceOf(thrown) };
  }
}

/** A closed form: what it is, what it was given, what came out. */
function ClosedForm({ one, name, help, value, styles }: { readonly one: ExplainedCall; readonly name: string; readonly help?: FunctionHelp; readonly value: CellValue; readonly styles: ReturnType<typeof useStyles> }): ReactNode {
  const args = one.record?.args ?? [];
  return (
    <>
      <MetricTexts name={name} />
      <Section heading={words.explain.given}>
        <table className={styles.table}>
          <tbody>
            {args.map((argument, place) => (
              <tr key={place}>
                <th scope="row" title={inLanguage(help?.parameters[place]?.description ?? "")}>
                  {help?.parameters[place]?.name ?? one.call.args[place] ?? place + 1}
                </th>
                <td>{shortArgument(argument)}</td>
              </tr>
            ))}
            {typeof value === "number" && one.call.depth === 0 && (
              <tr>
                <th scope="row">
                  <strong>{words.explain.result}</strong>
                </th>
                <td>{shortArgument(one.record?.result)}</td>
              </tr>
            )}
          </tbody>
        </table>
      </Section>
    </>
  );
}

function shortArgument(value: unknown): string {
  if (value === undefined || value === null || value === "") return words.explain.nothingGiven;
  if (typeof value === "number") return String(Number(value.toPrecision(7)));
  if (Array.isArray(value)) {
    if (value.length === 1 && (!Array.isArray(value[0]) || value[0].length === 1)) return shortArgument(Array.isArray(value[0]) ? value[0][0] : value[0]);
    const flat = value.flat();
    return flat.length <= 8 ? flat.map(shortArgument).join("; ") : words.explain.range(value.length, Array.isArray(value[0]) ? value[0].length : 1);
  }
  if (typeof value === "object") {
    if ("cut" in value && (value as CutRange).cut === "range") return words.explain.range((value as CutRange).rows, (value as CutRange).columns);
    if ("cut" in value && (value as CutText).cut === "text") return words.explain.text((value as CutText).characters);
    if ("message" in value) return sentenceOf((value as { readonly message: unknown }).message);
  }
  return String(value);
}

interface ComparisonProps {
  readonly kept: Kept;
  readonly cell: string;
  readonly explanation: MetricExplanation;
  readonly analysis: Analysis;
  readonly styles: ReturnType<typeof useStyles>;
}

/** Two cells beside each other; a difference only where metric, unit and protocol are alike. */
function Comparison({ kept, cell, explanation, analysis, styles }: ComparisonProps): ReactNode {
  const [before, now] = [kept.explanation.value!, explanation.value!];
  const unlike = kept.explanation.metric.id === explanation.metric.id && before.unit === now.unit ? likeProtocols(kept.analysis.protocol, analysis.protocol) : words.explain.otherUnits;
  return (
    <Section heading={words.explain.compareWith(kept.cell)}>
      <table className={styles.table}>
        <tbody>
          <tr>
            <th scope="row">{kept.cell}, {metricName(kept.explanation.metric.id)}</th>
            <td>{formatValue(before.value, before.unit, before.u)}</td>
          </tr>
          <tr>
            <th scope="row">{cell}, {metricName(explanation.metric.id)}</th>
            <td>{formatValue(now.value, now.unit, now.u)}</td>
          </tr>
          {unlike === undefined && (
            <tr>
              <th scope="row">
                <strong>{words.explain.difference}</strong>
              </th>
              <td>{formatValue(now.value - before.value, now.unit, now.u ?? before.u)}</td>
            </tr>
          )}
        </tbody>
      </table>
      {unlike !== undefined && <p className={styles.quiet}>{sentenceOf(unlike)}.</p>}
      {kept.analysis.settings.digest !== analysis.settings.digest && <p className={styles.quiet}>{words.explain.otherSettings}.</p>}
    </Section>
  );
}
