import type { ReactNode } from "react";
import { Link, makeStyles, tokens } from "@fluentui/react-components";
import { metricFormula } from "../../src/catalogue/metricFormula.ts";
import { fullReference } from "../../src/catalogue/references.ts";
import { resolveMetricName, type ResolvedMetric } from "../../src/catalogue/resolveMetricName.ts";
import type { Step } from "../../src/protocols/Analysis.ts";
import { metricExplanation } from "../../src/wording/explainMetric.ts";
import { inLanguage } from "../../src/wording/inLanguage.ts";
import { uncertaintySource } from "../../src/wording/uncertaintySource.ts";
import type { MetricExplanation } from "../explain/explainMetric.ts";
import { stepWithNumbers } from "../explain/stepWithNumbers.ts";
import { unitNotes } from "../explain/unitNotes.ts";
import { decimalsFor, formatNumber, formatValue, formatWorking, prettyUnit } from "./format.ts";
import { Formula } from "./Formula.tsx";
import { Section } from "./SectionHead.tsx";
import { SymbolText } from "./SymbolText.tsx";
import { metricName } from "./texts.ts";
import { placeName } from "./placeName.ts";
import { useUnits } from "./useUnits.tsx";
import { words } from "./words.ts";

const useStyles = makeStyles({
  name: { margin: "12px 0 0", fontSize: tokens.fontSizeBase300, fontWeight: tokens.fontWeightSemibold },
  value: { margin: "0", fontSize: tokens.fontSizeBase600, lineHeight: tokens.lineHeightBase600, fontWeight: tokens.fontWeightSemibold, fontVariantNumeric: "tabular-nums" },
  u: { fontSize: tokens.fontSizeBase300, fontWeight: tokens.fontWeightRegular, color: tokens.colorNeutralForeground2 },
  text: { margin: "4px 0" },
  steps: { margin: 0, padding: 0, listStyle: "none", display: "flex", flexDirection: "column", gap: "10px" },
  step: { paddingLeft: "10px", borderLeft: `2px solid ${tokens.colorNeutralStroke2}` },
  last: { borderLeft: `2px solid ${tokens.colorBrandStroke1}` },
  gives: { fontWeight: tokens.fontWeightSemibold },
  line: { fontFamily: tokens.fontFamilyBase, fontVariantNumeric: "tabular-nums", overflowWrap: "anywhere" },
  inputs: { margin: 0, padding: 0, listStyle: "none", fontSize: tokens.fontSizeBase200, color: tokens.colorNeutralForeground2, fontVariantNumeric: "tabular-nums" },
  bars: { display: "grid", gridTemplateColumns: "auto 1fr auto", gap: "4px 8px", alignItems: "center" },
  bar: { height: "10px", backgroundColor: tokens.colorBrandBackground, borderRadius: tokens.borderRadiusSmall, minWidth: "1px" },
  number: { textAlign: "right", fontVariantNumeric: "tabular-nums", whiteSpace: "nowrap" },
  list: { margin: 0, paddingLeft: "18px", display: "flex", flexDirection: "column", gap: "4px" },
  quiet: { margin: "4px 0 0", fontSize: tokens.fontSizeBase200, color: tokens.colorNeutralForeground2 },
});

/** A metric of this cell: its value, how it was worked out, its uncertainty. `said`: the reason that stands above already. */
export function MetricExplanationView({ explanation, said }: { readonly explanation: MetricExplanation; readonly said?: string }): ReactNode {
  const styles = useStyles();
  const { metric, value, missing, steps } = explanation;
  const notes = unitNotes(explanation, useUnits());
  return (
    <>
      <h2 className={styles.name}>{metricName(metric.id)}</h2>
      {value !== undefined && (
        <p className={styles.value}>
          {formatValue(value.value, value.unit, value.u)}{" "}
          {value.u !== undefined && value.u > 0 && (
            <span className={styles.u}>
              {"\u00b1"} {formatValue(value.u, value.unit, value.u)}
            </span>
          )}
        </p>
      )}
      {notes.value !== undefined && <p className={styles.quiet}>{notes.value}</p>}
      {missing !== undefined && missing !== said && (
        <p className={styles.text} role="note">
          <strong>{words.explain.missing}:</strong> {missing}
        </p>
      )}
      <p className={styles.text}>{metricExplanation(metric).definition}</p>
      <Forms metric={metric} />
      <Section heading={words.explain.mathematics}>
        <Formula latex={metricFormula(metric.base.id)} />
      </Section>
      {steps.length > 0 && (
        <Section heading={words.explain.working}>
          <ol className={styles.steps}>
            {steps.map((step, place) => (
              <StepLine key={`${step.gives} ${place}`} step={step} last={place === steps.length - 1} styles={styles} />
            ))}
          </ol>
          {notes.working !== undefined && <p className={styles.quiet}>{notes.working}</p>}
        </Section>
      )}
      {value?.u !== undefined && value.u > 0 && <Uncertainty explanation={explanation} styles={styles} />}
    </>
  );
}

function StepLine({ step, last, styles }: { readonly step: Step; readonly last: boolean; readonly styles: ReturnType<typeof useStyles> }): ReactNode {
  const numbers = stepWithNumbers(step, (value) => formatWorking(value, ""));
  return (
    <li className={last ? `${styles.step} ${styles.last}` : styles.step}>
      <div className={styles.gives}>{placeName(step.gives)}</div>
      <div className={styles.line}>
        = <SymbolText text={inLanguage(step.formula)} />
      </div>
      {numbers !== undefined && (
        <div className={styles.line}>
          = <SymbolText text={numbers} />
        </div>
      )}
      <div className={styles.line}>
        = <strong>{formatWorking(step.value, step.unit)}</strong>
      </div>
      {step.inputs.length > 0 && (
        <ul className={styles.inputs} aria-label={words.explain.where}>
          {step.inputs.map((input) => (
            <li key={input.symbol}>
              <SymbolText text={input.symbol} /> = {formatWorking(input.value, input.unit)}
              {input.from === undefined ? "" : `, ${placeName(input.from).toLocaleLowerCase()}`}
            </li>
          ))}
        </ul>
      )}
    </li>
  );
}

function Uncertainty({ explanation, styles }: { readonly explanation: MetricExplanation; readonly styles: ReturnType<typeof useStyles> }): ReactNode {
  const { value } = explanation;
  const u = value?.u;
  if (value === undefined || u === undefined) return null;
  const decimals = decimalsFor(value.value, value.unit, u) + 1;
  const unit = prettyUnit(value.unit);
  const budget = value.budget ?? [];
  return (
    <Section heading={words.explain.uncertainty}>
      <p className={styles.text}>
        {words.explain.standardUncertainty}: {formatValue(u, value.unit, u)}. {words.explain.coverage}
      </p>
      {budget.length > 0 && (
        <div className={styles.bars} role="table" aria-label={words.explain.uncertainty}>
          {budget.map((part) => {
            const source = uncertaintySource(part.source);
            const share = (part.u / u) ** 2;
            return (
              <div role="row" key={part.source} style={{ display: "contents" }} title={source.says}>
                <span role="rowheader">{source.name}</span>
                <span role="cell" aria-label={`${Math.round(share * 100)} %`}>
                  <span className={styles.bar} style={{ display: "block", width: `${Math.max(share * 100, 0.5)}%` }} />
                </span>
                <span role="cell" className={styles.number}>
                  {formatNumber(part.u, Math.min(decimals, 6))} {unit}
                </span>
              </div>
            );
          })}
        </div>
      )}
    </Section>
  );
}

function Forms({ metric }: { readonly metric: ResolvedMetric }): ReactNode {
  const styles = useStyles();
  const { forms } = metricExplanation(metric);
  return forms.length === 0 ? null : <p className={styles.text}>{forms.join(" ")}</p>;
}

/** What the catalogue says of a metric whatever its value: with `name` also its definition and formula. */
export function MetricTexts({ metric: given, name }: { readonly metric?: ResolvedMetric; readonly name?: string }): ReactNode {
  const styles = useStyles();
  let metric = given;
  try {
    if (metric === undefined && name !== undefined) metric = resolveMetricName(name);
  } catch {
    metric = undefined;
  }
  if (metric === undefined) return null;
  const { base } = metric;
  const { name: shownName, definition, watchFor, assumptions, range } = metricExplanation(metric);
  return (
    <>
      {name !== undefined && (
        <>
          <h2 className={styles.name}>{shownName}</h2>
          <p className={styles.text}>{definition}</p>
          <Section heading={words.explain.mathematics}>
            <Formula latex={metricFormula(base.id)} />
          </Section>
        </>
      )}
      {watchFor.length > 0 && (
        <Section heading={words.explain.watchFor}>
          <ul className={styles.list}>
            {watchFor.map((text) => (
              <li key={text}>{text}</li>
            ))}
          </ul>
        </Section>
      )}
      {assumptions.length > 0 && (
        <Section heading={words.explain.assumptions}>
          <ul className={styles.list}>
            {assumptions.map((text) => (
              <li key={text}>{text}</li>
            ))}
          </ul>
        </Section>
      )}
      {range !== undefined && (
        <Section heading={words.explain.usual}>
          <p className={styles.text}>{range}</p>
        </Section>
      )}
      <Section heading={words.explain.sources}>
        <ul className={styles.list}>
          {base.sources.map((key) => (
            <li key={key}>{fullReference(key)}</li>
          ))}
        </ul>
        <p className={styles.text}>
          <Link href={`docs/reference/metrics.html#${base.id}`} target="_blank" rel="noopener">
            {words.explain.reference}
          </Link>
        </p>
      </Section>
    </>
  );
}
