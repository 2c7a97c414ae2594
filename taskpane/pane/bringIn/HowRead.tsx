import { useMemo, useState, type ReactNode } from "react";
import { Button, Field, Input, makeStyles, Select, tokens } from "@fluentui/react-components";
import { inLanguage } from "../../../src/wording/inLanguage.ts";
import { DELIMITERS, type DecimalMark, type Delimiter, type ForceSource, type ImportRecipe } from "../../../src/read/ImportRecipe.ts";
import type { Guess, RecordingColumn } from "../../../src/read/Recording.ts";
import type { PlateRole } from "../../../src/trace/Trace.ts";
import { FORCE_UNITS, type ForceUnit } from "../../../src/trace/units.ts";
import type { TracePlotData } from "../../plots/TracePlotData.ts";
import { Section } from "../SectionHead.tsx";
import { TracePlotView } from "../TracePlotView.tsx";
import { words } from "../words.ts";
import type { IncomingFile } from "./IncomingFile.ts";
import type { PlanRow } from "./planOf.ts";

const useStyles = makeStyles({
  list: { display: "flex", flexDirection: "column", gap: "8px", margin: "0 0 8px" },
  unsure: { paddingLeft: "8px", borderLeft: `3px solid ${tokens.colorStatusWarningBorderActive}` },
  quiet: { margin: 0, fontSize: tokens.fontSizeBase200, color: tokens.colorNeutralForeground2 },
  columns: { listStyle: "none", margin: "6px 0", padding: 0 },
  column: { display: "flex", alignItems: "center", gap: "6px", padding: "3px 0", borderBottom: `1px solid ${tokens.colorNeutralStroke3}`, contentVisibility: "auto", containIntrinsicSize: "auto 34px" },
  columnName: { flex: "1 1 auto", minWidth: 0, overflowWrap: "anywhere", fontSize: tokens.fontSizeBase200 },
  picture: { flexShrink: 0, width: "48px", height: "20px", color: tokens.colorNeutralForeground2 },
  use: { flex: "0 0 124px", minWidth: 0, "& .fui-Select": { minWidth: 0 }, "& select": { minWidth: 0 } },
  warnings: { margin: "0 0 8px", paddingLeft: "18px" },
});

type Use = PlateRole | "time" | "unused";

export interface HowReadProps {
  readonly incoming: IncomingFile;
  /** Trials found in the file. */
  readonly windows: readonly PlanRow[];
  /** Whether there are other files that may be read the same way. */
  readonly several: boolean;
  readonly onCorrect: (recipe: ImportRecipe, all: boolean) => void;
}

/** What was read from a file, with the reason for each guess and a way to correct it, over a preview of the trace. */
export function HowRead({ incoming, windows, several, onCorrect }: HowReadProps): ReactNode {
  const styles = useStyles();
  const { recording, trace, recipe } = incoming;
  const data = useMemo<TracePlotData | undefined>(() => {
    if (trace === undefined) return undefined;
    const count = trace.plates[0].force.length;
    const time = new Float64Array(count);
    const total = new Float64Array(count);
    for (let i = 0; i < count; i++) time[i] = i / trace.rate;
    for (const plate of trace.plates) if (plate.role !== "box") for (let i = 0; i < count; i++) total[i] += plate.force[i];
    const sides = trace.plates.filter((plate) => plate.role === "left" || plate.role === "right");
    return {
      time,
      series: [
        { quantity: "force", side: "total", label: words.plot.quantities.force, values: total },
        ...sides.map((plate) => ({ quantity: "force" as const, side: plate.role as "left" | "right", label: words.sides[plate.role as "left" | "right"], values: plate.force })),
      ],
      events: [],
      phases: windows.map((row, place) => ({ label: `${place + 1}`, start: row.draft.startInFile - trace.start, end: row.draft.startInFile - trace.start + row.length })),
      doubts: [],
    };
  }, [trace, windows]);
  if (recording === undefined) return null;
  const { guesses, columns, warnings } = recording;
  const change = (part: Partial<ImportRecipe>): void => onCorrect({ ...recipe, ...part }, false);
  const unsure = Object.values(guesses).some((guess) => guess !== undefined && !guess.sure);

  return (
    <Section heading={words.bringIn.guessed}>
      {warnings.length > 0 && (
        <ul className={styles.warnings} aria-label={words.bringIn.warnings}>
          {warnings.map((text) => (
            <li key={text}>{inLanguage(text)}</li>
          ))}
        </ul>
      )}
      <div className={styles.list}>
        <Guessed guess={guesses.forces} label={words.bringIn.columns} styles={styles}>
          <span>{(guesses.forces.value ?? []).map((source) => `${words.bringIn.roles[source.role]}: ${columnName(columns, source)}`).join("; ") || words.bringIn.notFound}</span>
          {(guesses.forces.value ?? []).some((source) => source.role === "left") && (guesses.forces.value ?? []).some((source) => source.role === "right") && (
            <div>
              <Button size="small" onClick={() => change({ forces: swapped(guesses.forces.value ?? []) })}>
                {words.bringIn.swap}
              </Button>
            </div>
          )}
        </Guessed>
        <Guessed guess={guesses.rate} label={words.bringIn.rate} styles={styles}>
          <TypedNumber label={words.bringIn.rate} value={guesses.rate.value} onEnter={(rate) => change({ rate })} />
        </Guessed>
        <Guessed guess={guesses.unit} label={words.bringIn.unit} styles={styles}>
          <Select size="small" aria-label={words.bringIn.unit} value={guesses.unit.value ?? ""} onChange={(_, picked) => change({ unit: picked.value as ForceUnit })}>
            {guesses.unit.value === undefined && <option value="">{words.bringIn.notFound}</option>}
            {FORCE_UNITS.map((unit) => (
              <option key={unit} value={unit}>
                {unit}
              </option>
            ))}
          </Select>
        </Guessed>
        <Guessed guess={guesses.invert} label={words.bringIn.sign} styles={styles}>
          <Select size="small" aria-label={words.bringIn.sign} value={guesses.invert.value === true ? "down" : "up"} onChange={(_, picked) => change({ invert: picked.value === "down" })}>
            <option value="up">{words.bringIn.signUp}</option>
            <option value="down">{words.bringIn.signDown}</option>
          </Select>
        </Guessed>
      </div>
      {data !== undefined && <TracePlotView data={data} title={incoming.file.name} small wholeFirst />}
      <details open={unsure || trace === undefined}>
        <summary>
          {words.bringIn.correct}: {words.bringIn.columns.toLocaleLowerCase()} ({columns.length}), {words.bringIn.layout}
        </summary>
        <ul className={styles.columns}>
          {columns.map((column) => (
            <ColumnLine key={column.number} column={column} use={useOf(column, columns, guesses.forces.value ?? [], guesses.time.value)} styles={styles} onUse={(use) => change(recipeWith(column, use, columns, guesses.forces.value ?? [], guesses.time.value))} />
          ))}
        </ul>
        <div className={styles.list}>
          <Guessed guess={guesses.time} label={words.bringIn.roles.time} styles={styles}>
            <span>{typeof guesses.time.value === "number" ? (columns.find((column) => column.number === guesses.time.value)?.name ?? String(guesses.time.value)) : words.bringIn.noTime}</span>
          </Guessed>
          {guesses.delimiter !== undefined && (
            <Guessed guess={guesses.delimiter} label={words.bringIn.delimiter} styles={styles}>
              <Select size="small" aria-label={words.bringIn.delimiter} value={guesses.delimiter.value ?? ""} onChange={(_, picked) => change({ delimiter: picked.value as Delimiter })}>
                {DELIMITERS.map((delimiter) => (
                  <option key={delimiter} value={delimiter}>
                    {words.bringIn.delimiters[delimiter]}
                  </option>
                ))}
              </Select>
            </Guessed>
          )}
          {guesses.decimal !== undefined && (
            <Guessed guess={guesses.decimal} label={words.bringIn.decimal} styles={styles}>
              <Select size="small" aria-label={words.bringIn.decimal} value={guesses.decimal.value ?? "."} onChange={(_, picked) => change({ decimal: picked.value as DecimalMark })}>
                <option value=".">{words.bringIn.point}</option>
                <option value=",">{words.bringIn.comma}</option>
              </Select>
            </Guessed>
          )}
          {guesses.headerLines !== undefined && (
            <Guessed guess={guesses.headerLines} label={words.bringIn.headerLines} styles={styles}>
              <TypedNumber label={words.bringIn.headerLines} value={guesses.headerLines.value} whole onEnter={(headerLines) => change({ headerLines })} />
            </Guessed>
          )}
        </div>
        <p>
          {Object.keys(recipe).length > 0 && (
            <Button size="small" onClick={() => onCorrect({}, false)}>
              {words.bringIn.asGuessed}
            </Button>
          )}{" "}
          {several && (
            <Button size="small" onClick={() => onCorrect(recording.recipe, true)}>
              {words.bringIn.sameForAll}
            </Button>
          )}
        </p>
      </details>
    </Section>
  );
}

function Guessed({ guess, label, styles, children }: { readonly guess: Guess<unknown>; readonly label: string; readonly styles: ReturnType<typeof useStyles>; readonly children: ReactNode }): ReactNode {
  return (
    <div className={guess.sure ? undefined : styles.unsure}>
      <div>
        <strong>{label}</strong>
        {guess.sure ? "" : ` (${words.bringIn.unsure})`}
      </div>
      {children}
      <p className={styles.quiet}>{inLanguage(guess.why)}</p>
    </div>
  );
}

function TypedNumber({ label, value, whole, onEnter }: { readonly label: string; readonly value?: number; readonly whole?: boolean; readonly onEnter: (value: number) => void }): ReactNode {
  const shown = value === undefined ? "" : String(whole === true ? value : Number(value.toFixed(4)));
  const [text, setText] = useState(shown);
  const [before, setBefore] = useState(shown);
  if (before !== shown) {
    setBefore(shown);
    setText(shown);
  }
  const [problem, setProblem] = useState(false);
  const finish = (): void => {
    if (text === shown) return;
    const typed = Number(text.replace(",", "."));
    const good = text.trim() !== "" && Number.isFinite(typed) && (whole === true ? typed >= 0 && Number.isInteger(typed) : typed > 0);
    setProblem(!good);
    if (good) onEnter(typed);
  };
  return (
    <Field validationState={problem ? "error" : "none"} validationMessage={problem ? words.bringIn.notNumber(label) : undefined}>
      <Input size="small" inputMode="decimal" aria-label={label} value={text} onChange={(_, data) => setText(data.value)} onBlur={finish} onKeyDown={(key) => key.key === "Enter" && finish()} />
    </Field>
  );
}

function ColumnLine({ column, use, styles, onUse }: { readonly column: RecordingColumn; readonly use: Use; readonly styles: ReturnType<typeof useStyles>; readonly onUse: (use: Use) => void }): ReactNode {
  const path = useMemo(() => outline(column.preview), [column.preview]);
  const name = [column.group, column.name].filter((text) => text !== undefined && text !== "").join(" ");
  return (
    <li className={styles.column}>
      <svg className={styles.picture} viewBox="0 0 48 20" aria-hidden="true" focusable="false">
        <path d={path} fill="none" stroke="currentColor" strokeWidth="1" />
      </svg>
      <span className={styles.columnName}>
        {name}
        {column.unit === undefined || column.unit === "" ? "" : `, ${column.unit}`}
      </span>
      <Select className={styles.use} size="small" aria-label={words.bringIn.columnUse(name)} value={use} onChange={(_, picked) => onUse(picked.value as Use)}>
        {(["unused", "total", "left", "right", "box", "time"] as const).map((each) => (
          <option key={each} value={each}>
            {words.bringIn.roles[each]}
          </option>
        ))}
      </Select>
    </li>
  );
}

/** A column's values between their lowest and highest, as a path of 48 × 20. */
function outline(values: Float64Array): string {
  let low = Infinity;
  let high = -Infinity;
  for (const value of values) {
    if (value < low) low = value;
    if (value > high) high = value;
  }
  const span = high - low || 1;
  let path = "";
  values.forEach((value, place) => {
    if (!Number.isFinite(value)) return;
    path += `${path === "" ? "M" : "L"}${((place / Math.max(values.length - 1, 1)) * 48).toFixed(1)} ${(19 - ((value - low) / span) * 18).toFixed(1)}`;
  });
  return path;
}

function isColumn(column: RecordingColumn, source: { readonly column: number | string }): boolean {
  return source.column === column.number || source.column === column.name || source.column === `${column.group ?? ""} ${column.name}`.trim();
}

function columnName(columns: readonly RecordingColumn[], source: ForceSource): string {
  const column = columns.find((candidate) => isColumn(candidate, source));
  return column === undefined ? String(source.column) : [column.group, column.name].filter((text) => text !== undefined && text !== "").join(" ");
}

function useOf(column: RecordingColumn, columns: readonly RecordingColumn[], forces: readonly ForceSource[], time: number | "none" | undefined): Use {
  if (time === column.number) return "time";
  return forces.find((source) => columns.find((candidate) => isColumn(candidate, source)) === column)?.role ?? "unused";
}

function swapped(forces: readonly ForceSource[]): readonly ForceSource[] {
  return forces.map((source) => ({ ...source, role: source.role === "left" ? "right" : source.role === "right" ? "left" : source.role }));
}

/** The recipe after one column was given another use; a role that only one column may have leaves the other. */
function recipeWith(column: RecordingColumn, use: Use, columns: readonly RecordingColumn[], forces: readonly ForceSource[], time: number | "none" | undefined): Partial<ImportRecipe> {
  const others = forces.filter((source) => columns.find((candidate) => isColumn(candidate, source)) !== column);
  if (use === "time") return { time: column.number, forces: others };
  const kept = use === "total" ? others.filter((source) => source.role === "box") : use === "left" || use === "right" ? others.filter((source) => source.role !== "total" && source.role !== use) : use === "box" ? others.filter((source) => source.role !== "box") : others;
  return {
    forces: use === "unused" ? kept : [...kept, { column: column.number, role: use }],
    ...(time === column.number ? { time: "none" as const } : {}),
  };
}
