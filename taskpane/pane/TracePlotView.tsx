import { useEffect, useMemo, useRef, useState, type ReactNode } from "react";
import { Button, Input, makeStyles, mergeClasses, ToggleButton, tokens } from "@fluentui/react-components";
import { ArrowLeft16Regular, ArrowRight16Regular, ImageArrowBack20Regular, ZoomIn16Regular, ZoomOut16Regular } from "@fluentui/react-icons";
import { SIDE_COLOURS } from "../plots/plotColours.ts";
import { movementView } from "../plots/plotDataOf.ts";
import { tracePlot, type PlotAxes, type PlotAxis, type TracePlot } from "../plots/tracePlot.ts";
import type { Quantity, TracePlotData } from "../plots/TracePlotData.ts";
import { decimalsFor, formatNumber, formatValue } from "./format.ts";
import { headOf, plotAxes } from "./texts.ts";
import { useTheme } from "./useTheme.ts";
import { useUnits } from "./useUnits.tsx";
import { words } from "./words.ts";

export interface TracePlotViewProps {
  readonly data: TracePlotData;
  /** What is drawn, for its label and the name of its picture. */
  readonly title: string;
  /** Draws no tables and fewer buttons. */
  readonly small?: boolean;
  /** Begins with the whole recording in view. */
  readonly wholeFirst?: boolean;
  /** Moves an event of the trial, or (without a time) puts it back. Absent: events stand still. */
  readonly onMove?: (eventId: string, time?: number) => void;
}

const useStyles = makeStyles({
  figure: { margin: 0, display: "flex", flexDirection: "column", gap: "8px" },
  stage: { position: "relative", minWidth: 0, overflow: "hidden" },
  badge: {
    // Beside the name of the axis: it covers no line.
    position: "absolute", right: "4px", bottom: "2px", zIndex: 2, display: "inline-flex", alignItems: "center", gap: "4px", padding: "0 6px",
    borderRadius: tokens.borderRadiusMedium, border: `1px solid ${tokens.colorStatusWarningBorderActive}`, backgroundColor: tokens.colorStatusWarningBackground1, color: tokens.colorNeutralForeground1, fontSize: tokens.fontSizeBase200,
  },
  buttons: { display: "flex", flexWrap: "wrap", gap: "4px", alignItems: "center" },
  toggle: { minWidth: "auto" },
  legend: { display: "flex", flexWrap: "wrap", gap: "4px 12px", fontSize: tokens.fontSizeBase200, color: tokens.colorNeutralForeground1 },
  key: { display: "inline-flex", alignItems: "center", gap: "4px" },
  readout: { minHeight: "18px", fontSize: tokens.fontSizeBase200, color: tokens.colorNeutralForeground2, fontVariantNumeric: "tabular-nums" },
  table: { width: "100%", borderCollapse: "collapse", fontVariantNumeric: "tabular-nums", "& th, & td": { padding: "3px 6px", textAlign: "left", verticalAlign: "middle", borderBottom: `1px solid ${tokens.colorNeutralStroke3}` }, "& th": { fontWeight: tokens.fontWeightSemibold } },
  number: { textAlign: "right !important" as "right" },
  input: { width: "84px" },
  hint: { fontSize: tokens.fontSizeBase200, color: tokens.colorNeutralForeground2 },
});

/** The plot of a trial with its switches, and the same events as a table, which is what a screen reader reads. */
export function TracePlotView({ data, title, small, wholeFirst, onMove }: TracePlotViewProps): ReactNode {
  const styles = useStyles();
  const theme = useTheme();
  const units = useUnits();
  const axes = useMemo(() => plotAxes(units), [units]);
  const stage = useRef<HTMLDivElement>(null);
  const plot = useRef<TracePlot>();
  const readout = useRef<HTMLDivElement>(null);
  /** The stretch last seen, for the same recording drawn anew. */
  const kept = useRef<{ readonly view: readonly [number, number]; readonly last: number }>();
  const [quantities, setQuantities] = useState<readonly Quantity[]>(["force"]);
  const [sides, setSides] = useState(true);
  const available = useMemo(() => (["velocity", "displacement", "power"] as const).filter((quantity) => data.series.some((line) => line.quantity === quantity)), [data]);
  const hasSides = data.series.some((line) => line.side !== "total");
  const move = useRef(onMove);
  move.current = onMove;
  const movable = onMove !== undefined;

  useEffect(() => {
    if (stage.current === null) return undefined;
    const last = data.time[data.time.length - 1];
    const seen = kept.current?.last === last ? kept.current.view : undefined;
    const shown = (["force", "velocity", "displacement", "power"] as const).filter((quantity) => quantities.includes(quantity));
    const drawn = tracePlot(stage.current, data, {
      quantities: shown,
      sides,
      axes,
      view: seen ?? (wholeFirst === true ? undefined : movementView(data)),
      height: small === true ? 160 : 210,
      onCursor: (time) => {
        if (readout.current !== null) readout.current.textContent = time === undefined ? "" : readoutText(data, shown, sides, time, axes);
      },
      ...(movable ? { onMove: (id: string, time: number, done: boolean) => (done ? move.current?.(id, time) : readout.current !== null && (readout.current.textContent = shownValue(time, axes.time))) } : {}),
    });
    plot.current = drawn;
    return () => {
      kept.current = { view: drawn.currentView(), last };
      drawn.destroy();
    };
  }, [data, quantities, sides, small, wholeFirst, theme, movable, axes]);

  const zoom = (factor: number, shift: number): void => {
    const [from, to] = plot.current?.currentView() ?? movementView(data);
    const first = data.time[0];
    const last = data.time[data.time.length - 1];
    const half = Math.min(((to - from) / 2) * factor, (last - first) / 2);
    const middle = Math.min(Math.max((from + to) / 2 + shift * (to - from), first + half), last - half);
    plot.current?.view([middle - half, middle + half]);
  };

  return (
    <figure className={styles.figure} aria-label={words.plot.label(title)}>
      <div className={styles.buttons} role="group" aria-label={words.plot.show}>
        {available.map((quantity) => (
          <ToggleButton key={quantity} size="small" className={styles.toggle} checked={quantities.includes(quantity)} onClick={() => setQuantities((before) => (before.includes(quantity) ? before.filter((other) => other !== quantity) : [...before, quantity]))}>
            {words.plot.quantities[quantity]}
          </ToggleButton>
        ))}
        {hasSides && (
          <ToggleButton size="small" className={styles.toggle} checked={sides} onClick={() => setSides(!sides)}>
            {words.plot.sides}
          </ToggleButton>
        )}
      </div>
      <div className={styles.stage}>
        {data.doubts.length > 0 && (
          <span className={styles.badge} title={data.doubts.join(" ")}>
            <span aria-hidden="true">{"\u26a0\ufe0e"}</span> {words.plot.doubts(data.doubts.length)}
          </span>
        )}
        <div ref={stage} role="img" aria-label={words.plot.label(title)} />
      </div>
      {hasSides && sides && (
        <div className={styles.legend}>
          <SideKey side="total" />
          <SideKey side="left" />
          <SideKey side="right" />
        </div>
      )}
      <div ref={readout} className={styles.readout} aria-hidden="true" />
      <div className={styles.buttons} role="group" aria-label={words.plot.time}>
        {data.events.length > 0 && <Button size="small" className={styles.toggle} onClick={() => plot.current?.view(movementView(data))}>{words.plot.movement}</Button>}
        <Button size="small" className={styles.toggle} onClick={() => plot.current?.view()}>{words.plot.wholeTrial}</Button>
        <Button size="small" appearance="subtle" icon={<ZoomIn16Regular />} aria-label={words.plot.closer} title={words.plot.closer} onClick={() => zoom(0.6, 0)} />
        <Button size="small" appearance="subtle" icon={<ZoomOut16Regular />} aria-label={words.plot.wider} title={words.plot.wider} onClick={() => zoom(1 / 0.6, 0)} />
        <Button size="small" appearance="subtle" icon={<ArrowLeft16Regular />} aria-label={words.plot.earlier} title={words.plot.earlier} onClick={() => zoom(1, -0.3)} />
        <Button size="small" appearance="subtle" icon={<ArrowRight16Regular />} aria-label={words.plot.later} title={words.plot.later} onClick={() => zoom(1, 0.3)} />
        <Button size="small" appearance="subtle" icon={<ImageArrowBack20Regular />} aria-label={words.plot.savePicture} title={words.plot.savePicture} onClick={() => plot.current !== undefined && savePicture(plot.current.toPicture(), title)} />
      </div>
      {data.events.length > 0 && <table className={styles.table}>
        <caption className={styles.hint} style={{ textAlign: "left" }}>
          {words.plot.events}
          {movable ? `. ${words.plot.dragHint}` : ""}
        </caption>
        <thead>
          <tr>
            <th scope="col">{words.plot.number}</th>
            <th scope="col">{words.plot.event}</th>
            <th scope="col" className={styles.number}>{axes.time.label}</th>
            {!movable && <th scope="col" className={styles.number}>{axes.force.label}</th>}
          </tr>
        </thead>
        <tbody>
          {data.events.map((event, index) => (
            <tr key={event.id}>
              <td>{index + 1}</td>
              <th scope="row" style={{ fontWeight: "normal" }}>
                {event.label}
                {event.byHand ? ` (${words.plot.byHand})` : ""}
                {movable && event.byHand && (
                  <Button size="small" appearance="transparent" aria-label={words.plot.putBackLong(event.label)} onClick={(click) => {
                    // The button goes with the move: the focus stays in its row.
                    click.currentTarget.closest("tr")?.querySelector("input")?.focus();
                    onMove?.(event.id);
                  }}>
                    {words.plot.putBack}
                  </Button>
                )}
              </th>
              <td className={styles.number}>
                {movable ? <EventTime label={event.label} time={event.time} axis={axes.time} onMove={(time) => onMove?.(event.id, time)} /> : shownNumber(event.time, axes.time)}
              </td>
              {!movable && <td className={styles.number}>{shownNumber(valueAt(data, "force", event.time), axes.force)}</td>}
            </tr>
          ))}
        </tbody>
      </table>}
      {small !== true && data.phases.length > 0 && (
        <details>
          <summary>{words.plot.phases}</summary>
          <table className={styles.table}>
            <thead>
              <tr>
                <th scope="col">{words.plot.phase}</th>
                <th scope="col" className={styles.number}>{headOf(words.plot.from, axes.time.unit)}</th>
                <th scope="col" className={styles.number}>{headOf(words.plot.to, axes.time.unit)}</th>
                <th scope="col" className={styles.number}>{headOf(words.plot.lasts, axes.time.unit)}</th>
              </tr>
            </thead>
            <tbody>
              {data.phases.map((phase) => (
                <tr key={`${phase.label} ${phase.start}`}>
                  <th scope="row" style={{ fontWeight: "normal" }}>{phase.label}</th>
                  <td className={styles.number}>{shownNumber(phase.start, axes.time)}</td>
                  <td className={styles.number}>{shownNumber(phase.end, axes.time)}</td>
                  <td className={styles.number}>{shownNumber(phase.end - phase.start, axes.time)}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </details>
      )}
    </figure>
  );
}

/** The time of an event as a field: Enter or leaving it moves the event, Escape takes the typing back. */
function EventTime({ label, time, axis, onMove }: { readonly label: string; /** s. */ readonly time: number; readonly axis: PlotAxis; readonly onMove: (time: number) => void }): ReactNode {
  const styles = useStyles();
  const shown = (time * axis.factor).toFixed(decimalsFor(time, axis.unit));
  const [text, setText] = useState(shown);
  useEffect(() => setText(shown), [shown]);
  const finish = (): void => {
    const value = Number(text.replace(",", "."));
    if (text.trim() === "" || !Number.isFinite(value)) setText(shown);
    else if (text !== shown) onMove(value / axis.factor);
  };
  return (
    <Input
      size="small" className={styles.input} inputMode="decimal" value={text} aria-label={headOf(words.plot.moveTo(label), axis.unit)} input={{ style: { textAlign: "right" } }}
      onChange={(_, data) => setText(data.value)}
      onBlur={finish}
      onKeyDown={(key) => {
        if (key.key === "Enter") finish();
        if (key.key === "Escape" && text !== shown) {
          setText(shown);
          key.stopPropagation();
        }
      }}
    />
  );
}

const useKeyStyles = makeStyles({
  mark: { width: "26px", height: "12px" },
  total: { color: tokens.colorNeutralForeground1 },
  left: { color: SIDE_COLOURS.light.left, "@media (prefers-color-scheme: dark)": { color: SIDE_COLOURS.dark.left } },
  right: { color: SIDE_COLOURS.light.right, "@media (prefers-color-scheme: dark)": { color: SIDE_COLOURS.dark.right } },
  whole: { display: "inline-flex", alignItems: "center", gap: "4px" },
});

function SideKey({ side }: { readonly side: "total" | "left" | "right" }): ReactNode {
  const styles = useKeyStyles();
  return (
    <span className={styles.whole}>
      <svg viewBox="0 0 26 12" className={mergeClasses(styles.mark, styles[side])} aria-hidden="true" focusable="false">
        <path d="M0 6h26" stroke="currentColor" strokeWidth="1.6" />
        {side === "left" && <path d="M8 6l9-5v10Z" fill="currentColor" />}
        {side === "right" && <path d="M18 6l-9-5v10Z" fill="currentColor" />}
      </svg>
      {words.sides[side]}
    </span>
  );
}

function indexAt(time: Float64Array, at: number): number {
  const step = time.length > 1 ? (time[time.length - 1] - time[0]) / (time.length - 1) : 1;
  return Math.min(Math.max(Math.round((at - time[0]) / step), 0), time.length - 1);
}

function valueAt(data: TracePlotData, quantity: Quantity, time: number): number {
  const line = data.series.find((candidate) => candidate.quantity === quantity && candidate.side === "total");
  return line === undefined ? NaN : line.values[indexAt(data.time, time)];
}

function shownNumber(si: number, { unit, factor }: PlotAxis): string {
  return formatNumber(si * factor, decimalsFor(si * factor, unit));
}

function shownValue(si: number, axis: PlotAxis): string {
  return formatValue(si * axis.factor, axis.unit);
}

function readoutText(data: TracePlotData, shown: readonly Quantity[], sides: boolean, time: number, axes: PlotAxes): string {
  const at = indexAt(data.time, time);
  const parts = [shownValue(time, axes.time)];
  for (const line of data.series) {
    if (!shown.includes(line.quantity) || (line.side !== "total" && !sides)) continue;
    const name = line.side === "left" || line.side === "right" ? words.sides[line.side] : line.label;
    parts.push(`${name} ${shownValue(line.values[at], axes[line.quantity])}`);
  }
  return parts.join(" \u00b7 ");
}

function savePicture(address: string, title: string): void {
  const link = document.createElement("a");
  link.href = address;
  link.download = `${title.replace(/[^\p{L}\p{N} _.-]+/gu, " ").replace(/\s+/g, " ").trim() || "trace"}.png`;
  link.click();
}
