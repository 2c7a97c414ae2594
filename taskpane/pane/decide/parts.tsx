import { useEffect, useRef, type ReactNode } from "react";
import { Badge, Field, makeStyles, Select, tokens } from "@fluentui/react-components";
import type { Reading } from "../../../src/wording/readings.ts";
import { drawChart, type ChartSpec } from "../../plots/chart.ts";
import { plotColours } from "../../plots/plotColours.ts";
import { useTheme } from "../useTheme.ts";
import { words } from "../words.ts";

export const useDecideStyles = makeStyles({
  choices: { display: "grid", gridTemplateColumns: "repeat(auto-fit, minmax(140px, 1fr))", gap: "4px 8px", marginBottom: "10px", "& > *": { minWidth: 0 }, "& > * > *": { minWidth: 0 }, "& select": { minWidth: 0, maxWidth: "100%" } },
  scroll: { overflowX: "auto", maxWidth: "100%" },
  table: { width: "100%", borderCollapse: "collapse", fontSize: tokens.fontSizeBase200, "& th, & td": { padding: "3px 5px", textAlign: "left", verticalAlign: "baseline", borderBottom: `1px solid ${tokens.colorNeutralStroke3}` }, "& caption": { textAlign: "left", padding: "4px 0", fontWeight: tokens.fontWeightSemibold }, "& tbody th": { minWidth: "90px", overflowWrap: "anywhere" } },
  number: { textAlign: "right !important" as "right", whiteSpace: "nowrap", fontVariantNumeric: "tabular-nums" },
  quiet: { margin: "6px 0", color: tokens.colorNeutralForeground2, fontSize: tokens.fontSizeBase200 },
  card: { border: `1px solid ${tokens.colorNeutralStroke2}`, borderRadius: tokens.borderRadiusMedium, padding: "8px 10px", margin: "10px 0" },
  cardHead: { display: "flex", flexWrap: "wrap", alignItems: "baseline", gap: "8px", margin: "0 0 6px" },
  cardTitle: { margin: 0, fontSize: tokens.fontSizeBase300, fontWeight: tokens.fontWeightSemibold, flex: "1 1 auto" },
  reading: { display: "grid", gridTemplateColumns: "minmax(64px, max-content) 1fr", gap: "4px 10px", margin: 0, "& dt": { color: tokens.colorNeutralForeground2, fontSize: tokens.fontSizeBase200 }, "& dd": { margin: 0, overflowWrap: "anywhere" } },
  chart: { width: "100%", height: "230px", display: "block" },
  row: { display: "flex", flexWrap: "wrap", gap: "8px", marginTop: "8px" },
});

/** A choice from a short list; nothing to choose is not shown. */
export function Choice({ label, value, options, onChange }: { readonly label: string; readonly value: string; readonly options: readonly (readonly [value: string, label: string])[]; readonly onChange: (value: string) => void }): ReactNode {
  return (
    <Field label={label} size="small">
      <Select size="small" value={value} onChange={(_, data) => onChange(data.value)}>
        {options.map(([each, text]) => (
          <option key={each} value={each}>
            {text}
          </option>
        ))}
      </Select>
    </Field>
  );
}

/** The chosen one while it is still there, else the first. */
export function kept(chosen: string | undefined, options: readonly string[]): string {
  return chosen !== undefined && options.includes(chosen) ? chosen : (options[0] ?? "");
}

/** A reading part by part: components first, then the number, what it may mean, what to look at, cautions. */
export function ReadingCard({ heading, reading, children }: { readonly heading: string; readonly reading: Reading; readonly children?: ReactNode }): ReactNode {
  const styles = useDecideStyles();
  return (
    <article className={styles.card} aria-label={heading}>
      <div className={styles.cardHead}>
        <h2 className={styles.cardTitle}>{heading}</h2>
        <Badge appearance="outline" color="informative" size="large">
          {reading.verdictWord}
        </Badge>
      </div>
      {children}
      <dl className={styles.reading}>
        {reading.parts.map((part) => (
          <ReadingPart key={part.role + part.text} role={words.decide.roles[part.role]} text={part.text} />
        ))}
      </dl>
    </article>
  );
}

function ReadingPart({ role, text }: { readonly role: string; readonly text: string }): ReactNode {
  return (
    <>
      <dt>{role}</dt>
      <dd>{text}</dd>
    </>
  );
}

/** A chart with its text: what it shows stands in a table beside it too. */
export function Chart({ spec, label }: { readonly spec: ChartSpec; readonly label: string }): ReactNode {
  const styles = useDecideStyles();
  const theme = useTheme();
  const canvas = useRef<HTMLCanvasElement>(null);
  useEffect(() => {
    const element = canvas.current;
    if (element === null) return undefined;
    const draw = (): void => drawChart(element, spec, plotColours(element), Math.max(element.clientWidth, 200), 230, window.devicePixelRatio);
    draw();
    const watch = new ResizeObserver(draw);
    watch.observe(element);
    return () => watch.disconnect();
  }, [spec, theme]);
  return <canvas ref={canvas} role="img" aria-label={label} className={styles.chart} />;
}
