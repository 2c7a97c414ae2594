import type { PlateRole } from "../trace/Trace.ts";
import type { ColumnName } from "./columnNames.ts";
import type { ForceSource } from "./ImportRecipe.ts";
import { columnLabel, type NumberTable } from "./NumberTable.ts";
import type { Guess } from "./Recording.ts";

/** A column whose range is below this part of the largest one carries no load. */
const UNUSED_SHARE = 0.03;
/** Names of columns that each hold another trial of the same plate. */
const TRIAL = /(?:^|[^a-z])(?:trial|rep|attempt|jump|versuch|essai|prueba)[ _.-]*\d+/i;

/** A force column that is weighed up. */
interface Candidate {
  readonly index: number;
  readonly name: ColumnName;
  readonly label: string;
  readonly range: number;
  readonly mean: number;
}

export interface ForceGuess extends Guess<readonly ForceSource[]> {
  readonly warnings: readonly string[];
}

/**
 * Chooses the columns of vertical force and tells left from right.
 *
 * Names and units say which columns are forces; of the three directions of one plate the one that carries the most is the
 * vertical one; plates that carry nothing are left out. Where names say nothing, the size of the numbers decides.
 *
 * @param table Columns with samples of their values.
 * @param names What each column's name says.
 * @param time Index of the column of times, or -1.
 * @returns The choice, with why and what else it could be; without a value where no column can be a force.
 */
export function guessForces(table: NumberTable, names: readonly ColumnName[], time: number): ForceGuess {
  const warnings: string[] = [];
  const named = verticals(candidates(table, names, (name, i) => i !== time && name.kind === "force"));
  const byName = named.length > 0 && named.some((c) => c.range > 0);
  const pool = byName ? named : bySize(table, names, time);
  const largest = Math.max(0, ...pool.map((c) => c.range));
  const used = pool.filter((c) => c.range > UNUSED_SHARE * largest || (c.range > 0 && isNamedSide(c, pool)));
  if (used.length === 0) {
    const why = pool.length === 0 ? whyNone(names) : `no force changes: ${list(pool)} ${pool.length === 1 ? "holds" : "hold"} one value throughout`;
    return { value: undefined, why, alternatives: [], sure: false, warnings };
  }
  const unused = pool.filter((c) => !used.includes(c));
  if (unused.length > 0) warnings.push(`${list(unused)} ${unused.length === 1 ? "carries" : "carry"} no load and ${unused.length === 1 ? "was" : "were"} left out`);
  const how = byName ? "by name" : "by the size of its numbers";
  return { ...assign(table, used, how, byName, warnings), warnings };
}

function whyNone(names: readonly ColumnName[]): string {
  const volts = names.some((name) => name.kind === "voltage");
  return volts ? "the columns hold volts: export forces in newtons" : "no column looks like a force";
}

function candidates(table: NumberTable, names: readonly ColumnName[], wanted: (name: ColumnName, index: number) => boolean): Candidate[] {
  const found: Candidate[] = [];
  names.forEach((name, index) => {
    if (!wanted(name, index)) return;
    let low = Infinity;
    let high = -Infinity;
    let sum = 0;
    let count = 0;
    const sample = table.sample(index);
    for (let row = 0; row < sample.length; row++) {
      const value = sample[row];
      if (Number.isNaN(value)) continue;
      if (value < low) low = value;
      if (value > high) high = value;
      sum += Math.abs(value);
      count++;
    }
    if (count * 2 < table.sampleRows || count === 0) return;
    found.push({ index, name, label: columnLabel(table.columns[index]), range: high - low, mean: sum / count });
  });
  return found;
}

/** One column of each plate: the direction that carries the most. A direction that comes again begins another plate. */
function verticals(forces: readonly Candidate[]): Candidate[] {
  const plates = new Map<string, Candidate[]>();
  const seen = new Map<string, number>();
  for (const force of forces) {
    const { axis, stem } = force.name;
    const direction = `${stem}|${axis ?? ""}`;
    const copy = seen.get(direction) ?? 0;
    seen.set(direction, copy + 1);
    const key = axis && axis !== "vertical" ? `${stem}#${copy}` : `${stem}##${force.index}`;
    plates.set(key, [...(plates.get(key) ?? []), force]);
  }
  const usual = usualAxis([...plates.values()].filter((plate) => plate.length > 1));
  return [...plates.values()].map((plate) => {
    const strongest = plate.reduce((a, b) => (b.mean > a.mean ? b : a));
    return strongest.mean > 0 ? strongest : (plate.find((force) => force.name.axis === usual) ?? strongest);
  });
}

/** The direction that is vertical on the plate that carries the most. */
function usualAxis(plates: readonly (readonly Candidate[])[]): string | undefined {
  let best: Candidate | undefined;
  for (const plate of plates) for (const force of plate) if (!best || force.mean > best.mean) best = force;
  return best?.name.axis;
}

/** Columns of unknown kind, of which those are taken whose numbers are largest on average and change. */
function bySize(table: NumberTable, names: readonly ColumnName[], time: number): Candidate[] {
  const pool = candidates(table, names, (name, i) => i !== time && (name.kind === "unknown" || (name.kind === "force" && name.axis === undefined)));
  const rising = pool.filter((c) => !risesEvenly(table.sample(c.index)));
  const largest = Math.max(0, ...rising.map((c) => c.mean));
  return rising.filter((c) => c.mean >= 0.25 * largest || c.name.side !== undefined);
}

/** A counter or a clock rather than a force. */
function risesEvenly(values: Float64Array): boolean {
  if (values.length < 3) return false;
  for (let i = 1; i < values.length; i++) if (!(values[i] > values[i - 1])) return false;
  return true;
}

/** The other foot of a one-leg jump carries nothing but noise, and is still a side. */
function isNamedSide(candidate: Candidate, pool: readonly Candidate[]): boolean {
  const { side } = candidate.name;
  if (side !== "left" && side !== "right") return false;
  const other = side === "left" ? "right" : "left";
  return pool.filter((c) => c.name.side === side).length === 1 && pool.filter((c) => c.name.side === other).length === 1;
}

function assign(table: NumberTable, used: readonly Candidate[], how: string, byName: boolean, warnings: string[]): Guess<readonly ForceSource[]> {
  const side = (name: PlateRole) => used.find((c) => c.name.side === name);
  const source = (c: Candidate, role: PlateRole): ForceSource => ({ column: c.index + 1, role });
  const left = side("left");
  const right = side("right");
  const box = side("box");
  const rest = used.filter((c) => c !== left && c !== right && c !== box);
  const boxSource = box ? [source(box, "box")] : [];
  if (left && right) {
    if (rest.length > 0) warnings.push(`${list(rest)} ${rest.length === 1 ? "was" : "were"} left out beside the left and the right plate`);
    const value = [source(left, "left"), source(right, "right"), ...boxSource];
    return { value, why: `${list([left, right])} name their sides`, alternatives: [[source(left, "right"), source(right, "left"), ...boxSource]], sure: true };
  }
  const open = used.filter((c) => c !== box);
  if (open.length === 0 && box) {
    return { value: [source(box, "total")], why: `${box.label} is the only column that carries load`, alternatives: [], sure: false };
  }
  if (open.length === 1) {
    const alternatives: ForceSource[][] = box ? [[source(open[0], "total")]] : [];
    return { value: [source(open[0], "total"), ...boxSource], why: `${open[0].label}, found ${how}, is the only column of vertical force that carries load`, alternatives, sure: byName };
  }
  const total = open.find((c) => c.name.side === "total");
  const parts = open.filter((c) => c !== total);
  const split = total !== undefined && parts.length === 2 && isSum(table, total, parts);
  if (split) warnings.push(`${list([total])} is the sum of ${list(parts)} and was left out`);
  if (total && !split) {
    warnings.push(`${list(parts)} ${parts.length === 1 ? "was" : "were"} left out beside the total`);
    return { value: [source(total, "total"), ...boxSource], why: `${total.label} names the total`, alternatives: open.map((c) => [source(c, "total")]), sure: byName };
  }
  if (!split && open.every((c) => TRIAL.test(c.label))) {
    const why = `${list(open)} look like trials rather than plates: ${open[0].label} was taken, choose another one to read it`;
    warnings.push(why);
    return { value: [source(open[0], "total")], why, alternatives: open.slice(1).map((c) => [source(c, "total")]), sure: false };
  }
  const two = [...(split ? parts : open)].sort((a, b) => b.range - a.range).slice(0, 2).sort((a, b) => a.index - b.index);
  if (open.length > 2 && !split) warnings.push(`${open.length} plates carry load, ${list(open)}; the two that carry the most were taken, so look whether they are the feet`);
  // One of two may still name its side.
  const swap = two[0].name.side === "right" || two[1].name.side === "left";
  const [first, second] = swap ? [two[1], two[0]] : two;
  const known = two.some((c) => c.name.side === "left" || c.name.side === "right");
  const value = [source(first, "left"), source(second, "right"), ...boxSource];
  const swapped = [source(first, "right"), source(second, "left"), ...boxSource];
  const why = known
    ? `one of ${list(two)} names its side, the other one is the other side`
    : `two plates carry load and nothing says which is left: ${first.label} was taken as left, look whether that is so`;
  if (!known) warnings.push(why);
  return { value, why, alternatives: [swapped, [source(first, "total")], [source(second, "total")]], sure: known && (split || open.length === 2) };
}

/** Whether a column is the sum of the others in the sampled rows, within a hundredth of its range. */
function isSum(table: NumberTable, total: Candidate, parts: readonly Candidate[]): boolean {
  const sum = table.sample(total.index);
  const samples = parts.map((part) => table.sample(part.index));
  return sum.every((value, row) => Math.abs(value - samples.reduce((all, sample) => all + sample[row], 0)) <= 0.01 * total.range);
}

function list(columns: readonly Candidate[]): string {
  const names = columns.slice(0, 6).map((c) => `“${c.label.slice(0, 60)}”`);
  if (columns.length > 6) names.push(`${columns.length - 6} more`);
  return names.length < 2 ? (names[0] ?? "") : `${names.slice(0, -1).join(", ")} and ${names.at(-1)}`;
}
