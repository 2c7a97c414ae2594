import { InputError } from "../errors.ts";
import { stepsPerNewton } from "../trace/forceStep.ts";
import { FORCE_UNITS, LARGEST_FORCE, NEWTONS_PER, forceUnitNamed, type ForceUnit } from "../trace/units.ts";
import type { Plate, Trace } from "../trace/Trace.ts";
import { columnName, type ColumnName } from "./columnNames.ts";
import { guessForces } from "./guessForces.ts";
import { headRate, headRows, type HeadRate } from "./headRate.ts";
import { TIME_UNITS, type ColumnRef, type ForceSource, type ImportRecipe, type TimeUnit } from "./ImportRecipe.ts";
import { columnLabel, EXACT_DIGITS, type NumberTable, type WrittenDigits } from "./NumberTable.ts";
import type { Guess, Guesses, Recording, RecordingColumn } from "./Recording.ts";
import { rateOf, timeBase, type TimeBase } from "./timeBase.ts";

const SECONDS_PER: Readonly<Record<TimeUnit, number>> = { s: 1, ms: 1e-3, us: 1e-6 };
/** Rates that a recording of force can have, Hz. */
const SLOWEST = 20;
const FASTEST = 100_000;
/** Rates outside these are rare enough to be looked at, Hz. */
const USUAL_RATES = [50, 20_000] as const;
/** Columns that are read in one go with the times, before anything is known of them. */
const PRELOAD = 8;

/** What the reader of a format knows beside the table. */
export interface RecordingSource {
  readonly format: Recording["format"];
  readonly fileName: string;
  readonly hash: () => string;
  /** Guesses of the reader itself, such as the delimiter. */
  readonly guesses?: Pick<Guesses, "sheet" | "delimiter" | "decimal" | "headerLines">;
  readonly warnings: readonly string[];
}

/**
 * Guesses what the columns of a table are and puts the trace together.
 *
 * @param table Columns of numbers and their head.
 * @param source Format, name and hash of the file.
 * @param recipe What a person said, which wins over every guess.
 * @returns The recording, forces in N.
 * @throws {InputError} `unknown-name` if the recipe names a column that is not there.
 */
export function recordingFrom(table: NumberTable, source: RecordingSource, recipe: ImportRecipe): Recording {
  return new TableRecording(table, source, new Reading(table, recipe));
}

/** A class, because the engine would keep each literal with a getter of its own, and all it leads to, until its next full collection. */
class TableRecording implements Recording {
  readonly format: Recording["format"];
  readonly fileName: string;
  readonly warnings: readonly string[];
  readonly problem: InputError | undefined;
  private readonly whole: Trace | undefined;
  private readonly guessed: ReturnType<Reading["guesses"]>;
  private knownGuesses: Guesses | undefined;
  private knownHash: string | undefined;
  private knownColumns: readonly RecordingColumn[] | undefined;
  private knownRecipe: ImportRecipe | undefined;

  constructor(
    private readonly table: NumberTable,
    private readonly source: RecordingSource,
    reading: Reading,
  ) {
    this.format = source.format;
    this.fileName = source.fileName;
    this.guessed = reading.guesses();
    try {
      this.whole = reading.trace();
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      this.problem = error;
    }
    // The same may have been noticed in each of several readings.
    const noticed = table.warnings.length < 2 ? table.warnings : [...new Set(table.warnings)];
    this.warnings = [...source.warnings, ...reading.warnings, ...noticed];
  }

  // Whoever reads a folder of files asks for none of these.
  get hash(): string {
    return (this.knownHash ??= this.source.hash());
  }

  get guesses(): Guesses {
    return (this.knownGuesses ??= { ...this.source.guesses, ...this.guessed });
  }

  get columns(): readonly RecordingColumn[] {
    return (this.knownColumns ??= this.table.columns.map((column, i) => ({ number: i + 1, ...column, preview: this.table.sample(i) })));
  }

  get recipe(): ImportRecipe {
    return (this.knownRecipe ??= completeRecipe(this.guesses, this.table));
  }

  trace(): Trace {
    if (!this.whole) throw this.problem!;
    return this.whole;
  }
}

/** The guesses as a recipe; columns by name where the name is the only one of its kind. */
function completeRecipe(guesses: Guesses, table: NumberTable): ImportRecipe {
  const labels = table.columns.map(columnLabel);
  const refer = (column: ColumnRef): ColumnRef => {
    const label = labels[Number(column) - 1];
    return label !== undefined && !/^column \d+$/.test(label) && labels.filter((other) => other === label).length === 1 ? label : column;
  };
  const time = guesses.time.value;
  return {
    sheet: guesses.sheet?.value,
    delimiter: guesses.delimiter?.value,
    decimal: guesses.decimal?.value,
    headerLines: guesses.headerLines?.value,
    time: time === undefined || time === "none" ? time : refer(time),
    timeUnit: guesses.timeUnit?.value,
    // With a time column every file says its own rate.
    rate: time === "none" ? guesses.rate.value : undefined,
    forces: guesses.forces.value?.map(({ column, role }) => ({ column: refer(column), role })),
    unit: guesses.unit.value,
    invert: guesses.invert.value,
  };
}

/** What the head says. */
interface Stated {
  readonly names: readonly ColumnName[];
  readonly rate: HeadRate | undefined;
  readonly rows: number | undefined;
}

const known = new WeakMap<NumberTable["columns"], Stated>();

/** What the head of a table says, worked out once for all tables with the very same columns and thus the same head. */
function statedBy({ columns, head }: NumberTable): Stated {
  let stated = known.get(columns);
  if (stated === undefined) {
    stated = { names: columns.map((column) => columnName(column.name, column.unit, column.group)), rate: headRate(head), rows: headRows(head) };
    known.set(columns, stated);
  }
  return stated;
}

class Reading {
  readonly warnings: string[] = [];
  private readonly stated: Stated;
  private readonly names: readonly ColumnName[];
  private readonly loaded = new Map<number, Float64Array>();
  private readonly time: Guess<number | "none">;
  private readonly timeUnit: Guess<TimeUnit> | undefined;
  private readonly rate: Guess<number>;
  private readonly forces: Guess<readonly ForceSource[]>;
  private readonly unit: Guess<ForceUnit>;
  private readonly invert: Guess<boolean>;
  /** Fault of the times or of their column, thrown where nothing else gives the rate. */
  private fault: InputError | undefined;

  constructor(
    private readonly table: NumberTable,
    private readonly recipe: ImportRecipe,
  ) {
    this.stated = statedBy(table);
    this.names = this.stated.names;
    const timeColumns = this.timeColumns();
    this.forces = this.guessForceColumns(timeColumns[0] ?? -1);
    const wanted = [...timeColumns, ...(this.forces.value ?? []).map(({ column }) => Number(column) - 1)];
    if (wanted.length <= PRELOAD) this.preload([...new Set(wanted)]);
    const clock = this.guessTime(timeColumns);
    this.time = clock.time;
    this.timeUnit = clock.unit;
    this.rate = this.guessRate(clock.base);
    const rate = this.rate.value;
    if (rate !== undefined && this.recipe.rate === undefined && (rate < USUAL_RATES[0] || rate > USUAL_RATES[1])) {
      this.warnings.push(`${Number(rate.toPrecision(4))} Hz is an unusual sampling rate: look whether the times are in the unit that was taken`);
    }
    this.unit = this.guessUnit();
    if (!this.unit.sure && this.unit.value !== "N") this.warnings.push(this.unit.why);
    this.invert = this.guessInvert();
    const { rows } = this.stated;
    const first = [...this.loaded.values()][0];
    if (rows !== undefined && first && rows !== first.length) {
      this.warnings.push(`the head says ${rows} rows and there are ${first.length}: the file may have been cut`);
    }
  }

  guesses(): Omit<Guesses, "sheet" | "delimiter" | "decimal" | "headerLines"> {
    return { time: this.time, timeUnit: this.timeUnit, rate: this.rate, forces: this.forces, unit: this.unit, invert: this.invert };
  }

  trace(): Trace {
    const sources = this.forces.value;
    if (!sources || sources.length === 0) throw new InputError("not-available", `reading requires a column of vertical force, and ${this.forces.why}`);
    if (this.rate.value === undefined) {
      if (this.fault) throw this.fault;
      throw new InputError("not-available", "reading a file without a column of times requires the sampling rate: enter it in hertz");
    }
    const columns = this.load(sources.map(({ column }) => Number(column) - 1));
    const scale = NEWTONS_PER[this.unit.value ?? "N"];
    const turn = this.invert.value === true;
    const plates: Plate[] = columns.map((values, i) => ({ role: sources[i].role, force: inNewtons(values, scale, turn) }));
    const digits = this.writtenDigits(sources);
    if (digits === undefined || scale * 10 ** digits.whole > LARGEST_FORCE) plates.forEach(({ force }, i) => this.refuseAbsurd(force, sources[i].column));
    if (plates.every(({ force }) => force.every((value) => value === force[0]))) {
      throw new InputError("out-of-range", `reading requires a force that changes, and ${this.label(sources[0].column)} holds ${columns[0][0]} throughout`);
    }
    if (plates[0].force.length < 3) throw new InputError("wrong-shape", "reading requires at least three lines of numbers");
    // What is written in newtons with so many decimals lies on their grid.
    const steps = stepsPerNewton(plates, digits !== undefined && scale === 1 ? 10 ** digits.decimals : 0);
    return { rate: this.rate.value, plates, start: 0, step: steps > 0 ? 1 / steps : 0, rounding: 0 };
  }

  /** Most digits of all force columns, where the reader noticed them and the numbers are exact to the last one. */
  private writtenDigits(sources: readonly ForceSource[]): WrittenDigits | undefined {
    let [whole, decimals] = [0, 0];
    for (const { column } of sources) {
      const digits = this.table.written?.(Number(column) - 1);
      if (digits === undefined) return undefined;
      whole = Math.max(whole, digits.whole);
      decimals = Math.max(decimals, digits.decimals);
    }
    return whole + decimals <= EXACT_DIGITS ? { whole, decimals } : undefined;
  }

  private refuseAbsurd(force: Float64Array, column: ColumnRef): void {
    for (let i = 0; i < force.length; i++) {
      if (Math.abs(force[i]) <= LARGEST_FORCE) continue;
      const where = `${this.table.place(i)}, column ${column}`;
      throw new InputError("out-of-range", `reading requires forces a person can exert, and in ${where} stands ${force[i].toPrecision(3)} N`, where);
    }
  }

  private label(column: ColumnRef): string {
    return `“${columnLabel(this.table.columns[Number(column) - 1])}”`;
  }

  /** Columns that may hold times, the likeliest first. */
  private timeColumns(): number[] {
    const { recipe, table, names } = this;
    if (recipe.time === "none") return [];
    if (recipe.time !== undefined) return [this.resolve(recipe.time)];
    const named = names.flatMap((name, i) => (name.kind === "time" && table.sample(i).some((value) => !Number.isNaN(value)) ? [i] : []));
    if (named.length > 0) return named.slice(0, 4);
    // Without a name: a first column that rises by less than half a second a row; a counter rises by one.
    if (table.columns.length < 2 || names[0].kind !== "unknown" || !rises(table.sample(0))) return [];
    const first = this.tryLoad(0);
    return first && (first[first.length - 1] - first[0]) / (first.length - 1) < 0.5 ? [0] : [];
  }

  private guessForceColumns(time: number): Guess<readonly ForceSource[]> {
    const { recipe } = this;
    if (recipe.forces && recipe.forces.length > 0) {
      const value = recipe.forces.map(({ column, role }) => ({ column: this.resolve(column) + 1, role }));
      if (new Set(value.map(({ role }) => role)).size !== value.length) {
        throw new InputError("wrong-shape", "a recipe requires a different plate for each force column");
      }
      return { value, why: "as you said", alternatives: [], sure: true };
    }
    const guess = guessForces(this.table, this.names, time);
    this.warnings.push(...guess.warnings);
    return guess;
  }

  private guessTime(columns: readonly number[]): { time: Guess<number | "none">; unit?: Guess<TimeUnit>; base?: TimeBase } {
    const { recipe, table } = this;
    if (columns.length === 0) {
      const why = recipe.time === "none" ? "as you said" : "no column of times was found";
      return { time: { value: "none", why, alternatives: [], sure: recipe.time === "none" } };
    }
    let uneven: { column: number; base: TimeBase; unit: Guess<TimeUnit> } | undefined;
    let coarse: typeof uneven;
    for (const column of columns) {
      const times = this.tryLoad(column);
      if (!times) continue;
      const base = timeBase(times, 10 ** -table.decimals(column));
      if (!base) continue;
      const unit = this.guessTimeUnit(column, 1 / base.interval);
      if (base.fault) uneven ??= { column, base, unit };
      else if (base.repeats) coarse ??= { column, base, unit };
      else return this.evenTime(column, columns, base, unit);
    }
    if (coarse) {
      const stated = this.stated.rate;
      if (stated && recipe.time === undefined) {
        const why = `${this.label(coarse.column + 1)} stands still over several rows, so the rate in the head was used`;
        return { time: { value: "none", why, alternatives: [coarse.column + 1], sure: true } };
      }
      return this.evenTime(coarse.column, columns, coarse.base, coarse.unit);
    }
    if (uneven) return this.unevenTime(uneven.column, uneven.base, uneven.unit);
    const why = this.fault ? this.fault.message : `${this.label(columns[0] + 1)} does not rise, so it was not read as times`;
    return { time: { value: "none", why, alternatives: columns.map((i) => i + 1), sure: false } };
  }

  private evenTime(column: number, columns: readonly number[], base: TimeBase, unit: Guess<TimeUnit>): { time: Guess<number>; unit: Guess<TimeUnit>; base: TimeBase } {
    const others = columns.filter((other) => other !== column);
    const all = columns.map((i) => this.label(i + 1)).join(" and ");
    const rising = `${this.label(column + 1)} rises evenly`;
    const why = this.recipe.time !== undefined ? "as you said" : others.length > 0 ? `${all} look like times; ${rising}` : rising;
    return { time: { value: column + 1, why, alternatives: others.map((i) => i + 1), sure: true }, unit, base };
  }

  /** Times that are not even: another source of the rate wins, else it is a fault of the file. */
  private unevenTime(column: number, base: TimeBase, unit: Guess<TimeUnit>): { time: Guess<number | "none">; unit?: Guess<TimeUnit>; base?: TimeBase } {
    const fault = base.fault!;
    const where = this.table.place(fault.row);
    const text = {
      gap: `the time jumps from ${fault.from} to ${fault.to}`,
      back: `the time goes back from ${fault.from} to ${fault.to}`,
      repeat: `the time ${fault.to} stands twice`,
      uneven: `the time goes from ${fault.from} to ${fault.to}, off an even course`,
    }[fault.kind];
    const message = `reading requires times that rise evenly, and in ${where} ${text}`;
    if (this.recipe.rate !== undefined) {
      this.warnings.push(`${message.replace("reading requires times that rise evenly, and", "the times do not rise evenly:")}; the rate you gave was used instead`);
      return { time: { value: column + 1, why: "as you said, but it does not rise evenly", alternatives: ["none"], sure: false }, unit };
    }
    const stated = this.stated.rate;
    if (stated !== undefined && this.recipe.time === undefined) {
      const why = `${this.label(column + 1)} does not rise evenly (${where}: ${text}), so the rate in the head was used`;
      this.warnings.push(why);
      return { time: { value: "none", why, alternatives: [column + 1], sure: false } };
    }
    this.fault = new InputError("out-of-range", `${message}: mend the file, or read it by its sampling rate`, where);
    return { time: { value: column + 1, why: `${this.label(column + 1)} is named as time, but ${text} (${where})`, alternatives: ["none"], sure: false }, unit };
  }

  private guessTimeUnit(column: number, perUnit: number): Guess<TimeUnit> {
    if (this.recipe.timeUnit) return { value: this.recipe.timeUnit, why: "as you said", alternatives: [], sure: true };
    const written = this.table.columns[column].unit?.toLowerCase();
    const named = written === "µs" ? "us" : written === "sec" ? "s" : TIME_UNITS.find((unit) => unit === (written ?? this.table.columns[column].name.toLowerCase()));
    const plausible = TIME_UNITS.filter((unit) => {
      const rate = perUnit / SECONDS_PER[unit];
      return rate >= SLOWEST && rate <= FASTEST;
    });
    if (named) return { value: named, why: `the head says ${named}`, alternatives: plausible.filter((unit) => unit !== named), sure: true };
    const value = plausible[0] ?? "s";
    const why = value === "s" ? "times without a unit are read as seconds" : `read in seconds the rate would be ${Number(perUnit.toPrecision(3))} Hz, so the times are in ${value}`;
    return { value, why, alternatives: plausible.slice(1), sure: value === "s" };
  }

  private guessRate(base: TimeBase | undefined): Guess<number> {
    if (this.recipe.rate !== undefined) {
      if (!(this.recipe.rate > 0 && Number.isFinite(this.recipe.rate))) throw new InputError("out-of-range", "reading requires a sampling rate above zero");
      return { value: this.recipe.rate, why: "as you said", alternatives: [], sure: true };
    }
    const stated = this.stated.rate;
    if (base && this.timeUnit?.value) {
      const rate = rateOf(base, SECONDS_PER[this.timeUnit.value]);
      const differs = stated !== undefined && Math.abs(stated.rate - rate) > 0.01 * rate;
      if (differs) this.warnings.push(`the head says ${stated.rate} Hz (line ${stated.line}), the times say ${rate} Hz: the times were used`);
      return { value: rate, why: `from the times in ${this.label(this.time.value as number)}`, alternatives: differs ? [stated.rate] : [], sure: !differs && rate >= SLOWEST };
    }
    if (this.table.rate !== undefined) return { value: this.table.rate, why: "the file states it", alternatives: [], sure: true };
    if (this.fault) return { value: undefined, why: this.fault.message, alternatives: stated ? [stated.rate] : [], sure: false };
    if (stated) return { value: stated.rate, why: `line ${stated.line} of the head says “${stated.text}”`, alternatives: [], sure: true };
    return { value: undefined, why: "the file does not say at which rate it was sampled", alternatives: [], sure: false };
  }

  private guessUnit(): Guess<ForceUnit> {
    const sources = this.forces.value ?? [];
    if (this.recipe.unit) return { value: this.recipe.unit, why: "as you said", alternatives: [], sure: true };
    const written = sources.map(({ column }) => this.table.columns[Number(column) - 1].unit).find((unit) => unit !== undefined);
    const named = written === undefined ? undefined : forceUnitNamed(written);
    const others = (unit: ForceUnit) => FORCE_UNITS.filter((other) => other !== unit);
    if (named) return { value: named, why: `the head says ${written}`, alternatives: others(named), sure: true };
    const load = this.usualLoad(sources);
    const round = Number(load.toPrecision(3));
    if (load >= 150) return { value: "N", why: `a usual load of ${round} is that of a person in newtons`, alternatives: others("N"), sure: load >= 300 };
    if (load >= 20) return { value: "kgf", why: `a usual load of ${round} is small for newtons and that of a person in kilograms: look whether it is so`, alternatives: others("kgf"), sure: false };
    if (load >= 0.1 && load < 10) return { value: "kN", why: `a usual load of ${round} is that of a person in kilonewtons: look whether it is so`, alternatives: others("kN"), sure: false };
    return { value: "N", why: "neither the head nor the size of the numbers tells the unit", alternatives: others("N"), sure: false };
  }

  /** Median of the sum of the plates over the sampled rows in which it is above a fifth of its largest. */
  private usualLoad(sources: readonly ForceSource[]): number {
    const samples = sources.map(({ column }) => this.table.sample(Number(column) - 1));
    const sums = new Float64Array(this.table.sampleRows);
    let largest = 0;
    for (let row = 0; row < sums.length; row++) {
      let sum = 0;
      for (const sample of samples) sum += Math.abs(sample[row]);
      sums[row] = sum;
      if (sum > largest) largest = sum;
    }
    let loaded = 0;
    // A comparison with a missing value is false.
    for (let row = 0; row < sums.length; row++) if (sums[row] > largest / 5) sums[loaded++] = sums[row];
    return loaded === 0 ? 0 : sums.subarray(0, loaded).sort()[loaded >> 1];
  }

  private guessInvert(): Guess<boolean> {
    if (this.recipe.invert !== undefined) return { value: this.recipe.invert, why: "as you said", alternatives: [], sure: true };
    const sources = this.forces.value ?? [];
    let up = 0;
    let down = 0;
    const reversed: string[] = [];
    for (const { column } of sources) {
      let above = 0;
      let below = 0;
      const sample = this.table.sample(Number(column) - 1);
      for (let row = 0; row < sample.length; row++) {
        if (sample[row] > 0) above += sample[row];
        else if (sample[row] < 0) below -= sample[row];
      }
      up += above;
      down += below;
      if (below > above) reversed.push(this.label(column));
    }
    const invert = down > up;
    const mixed = reversed.length > 0 && reversed.length < sources.length;
    if (invert && !mixed) this.warnings.push("forces are negative under load in this file and were turned");
    if (mixed) this.warnings.push(`${reversed.join(" and ")} is negative under load and the other plate is not: mend the file, or leave one of them out`);
    return { value: invert, why: invert ? "forces are negative under load" : "forces are positive under load", alternatives: [!invert], sure: !mixed && Math.max(up, down) > 5 * Math.min(up, down) };
  }

  private resolve(column: ColumnRef): number {
    const { columns } = this.table;
    if (typeof column === "number") {
      if (Number.isInteger(column) && column >= 1 && column <= columns.length) return column - 1;
      throw new InputError("unknown-name", `a recipe requires columns that are in the file: there is no column ${column}, there are ${columns.length}`);
    }
    const key = column.trim().toLowerCase();
    const byLabel = columns.findIndex((c) => columnLabel(c).toLowerCase() === key);
    const index = byLabel >= 0 ? byLabel : columns.findIndex((c) => c.name.toLowerCase() === key);
    if (index < 0) throw new InputError("unknown-name", `a recipe requires columns that are in the file: there is no column “${column.slice(0, 60)}”`);
    return index;
  }

  private preload(indexes: readonly number[]): void {
    if (indexes.length === 0) return;
    try {
      this.load(indexes);
    } catch (error) {
      // The same fault comes up again where the column is needed, and is told then.
      if (!(error instanceof InputError)) throw error;
    }
  }

  private tryLoad(index: number): Float64Array | undefined {
    try {
      return this.load([index])[0];
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      this.fault ??= error;
      return undefined;
    }
  }

  private load(indexes: readonly number[]): Float64Array[] {
    const missing = indexes.filter((index) => !this.loaded.has(index));
    if (missing.length > 0) this.table.values(missing).forEach((values, i) => this.loaded.set(missing[i], values));
    return indexes.map((index) => this.loaded.get(index)!);
  }
}

function inNewtons(values: Float64Array, scale: number, turn: boolean): Float64Array {
  const factor = turn ? -scale : scale;
  if (factor === 1) return values;
  const force = new Float64Array(values.length);
  // Minus zero has no meaning as a force.
  for (let i = 0; i < values.length; i++) force[i] = factor * values[i] + 0;
  return force;
}

function rises(values: Float64Array): boolean {
  const steps = (values.at(-1)! - values[0]) / (values.length - 1);
  if (!(steps > 0)) return false;
  for (let i = 1; i < values.length; i++) if (!(values[i] > values[i - 1])) return false;
  return true;
}
