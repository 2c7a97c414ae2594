import type { Contribution, MetricGroup, MetricValue, Step, StepInput } from "./Analysis.ts";
import { MetricTable } from "./MetricTable.ts";
import { SOURCE_COUNT, SOURCES } from "../uncertainty/sources.ts";

/** Groups as bits, so that a result inherits the needs of what it is made of. */
export const GROUP_BITS: Readonly<Record<MetricGroup, number>> = { T: 1, B: 2, V: 4, L: 8, A: 16 };
export const TIMES = 1;
export const WEIGHT = 2;
export const INTEGRAL = 4;
export const LANDING_GROUP = 8;
export const SIDES = 16;

/** Rows to begin with: enough for a jump; a long series of hops needs more. Kept as a list of zeros, since its copy is cheaper than a new one. */
const EMPTY_ROWS: readonly number[] = emptyRows(128);

function emptyRows(rows: number): readonly number[] {
  // Fractions first, so that the engine lays the list out for fractions and not for whole numbers.
  const values: number[] = [];
  for (let k = 0; k < rows * SOURCE_COUNT; k++) values.push(0.5);
  return values.fill(0);
}

/** A number on its way to a result: its value, what it needs, and what its uncertainty is made of. */
export interface Quantity {
  readonly value: number;
  /** Groups it needs, as bits. */
  readonly needs: number;
  /** Where its row of contributions starts; {@link EXACT} for an exact number. */
  readonly row: number;
}

/** A symbol of a formula: as written, its unit, and the metric, event or setting it comes from. */
export type FormulaSymbol = readonly [symbol: string, unit: string, from?: string];

/** A formula: the text that is shown and the function that computes it, side by side. */
export interface Formula {
  /** Metric id, event name or the name of an inner quantity. */
  readonly gives: string;
  /** Place of `gives` in a table of metrics. */
  readonly place: number;
  readonly unit: string;
  readonly text: string;
  readonly symbols: readonly FormulaSymbol[];
  /** True for a stepping stone that is no metric. */
  readonly inner: boolean;
  /** Nothing where a pass over the samples gives the value. */
  readonly compute: ((a: number, b: number, c: number, d: number) => number) | undefined;
}

interface Recorded {
  readonly formula: Formula;
  readonly value: number;
  readonly inputs: readonly Quantity[];
}

/** The first row: that of all exact numbers, zeros. */
const EXACT = 0;

/** Stands for an input that a formula does not have. */
const NOTHING: Quantity = { value: 0, needs: 0, row: EXACT };

/** A metric that keeps its row of contributions, so that a ratio to another can use what they share. */
export class WorkedMetric implements MetricValue, Quantity {
  constructor(
    readonly id: string,
    readonly value: number,
    readonly unit: string,
    readonly needs: number,
    private readonly rows: readonly number[],
    readonly row: number,
    readonly u: number | undefined,
  ) {}

  /** Contributions in the order of the sources; zeros where there are none. */
  get parts(): readonly number[] {
    return this.rows.slice(this.row, this.row + SOURCE_COUNT);
  }

  get budget(): readonly Contribution[] | undefined {
    if (this.u === undefined) return undefined;
    const budget: Contribution[] = [];
    this.parts.forEach((u, k) => {
      if (u !== 0) budget.push({ source: SOURCES[k]!, u: Math.abs(u) });
    });
    return budget.sort((a, b) => b.u - a.u);
  }
}

/** A function of two metrics of one trial, from its slopes: what they share enters both ways. */
export function combinedMetric(id: string, value: number, unit: string, a: WorkedMetric, byA: number, b: WorkedMetric, byB: number): WorkedMetric {
  const ofB = b.parts;
  const parts = a.parts.map((u, k) => byA * u + byB * ofB[k]!);
  const known = a.u !== undefined || b.u !== undefined;
  return new WorkedMetric(id, value, unit, a.needs | b.needs, parts, 0, known ? Math.hypot(...parts) : undefined);
}

/** Computes, and records what was computed: values, steps and uncertainties of one trial. */
export class Workings {
  readonly metrics = new MetricTable<WorkedMetric>();
  private readonly recorded: Recorded[] | undefined;
  /** Contributions to the uncertainty of each quantity, end to end; the first row is that of exact numbers. */
  private readonly rows = EMPTY_ROWS.slice();
  private used = SOURCE_COUNT;

  /** @param recording Whether each step is written down. */
  constructor(recording = true) {
    if (recording) this.recorded = [];
  }

  /** A quantity that enters from outside, with up to four contributions: source, size. */
  quantity(value: number, needs: number, source1 = 0, u1 = 0, source2 = 0, u2 = 0, source3 = 0, u3 = 0, source4 = 0, u4 = 0): Quantity {
    const row = this.newRow();
    const { rows } = this;
    rows[row + source1]! += u1;
    rows[row + source2]! += u2;
    rows[row + source3]! += u3;
    rows[row + source4]! += u4;
    return { value, needs, row };
  }

  /** A quantity that enters from outside, its contributions still to be put in. */
  blank(value: number, needs: number): Quantity {
    return { value, needs, row: this.newRow() };
  }

  /** Puts a contribution into a quantity that was made with {@link blank}. */
  put(quantity: Quantity, source: number, u: number): void {
    this.rows[quantity.row + source] = u;
  }

  /** A number without uncertainty. */
  exact(value: number, needs = 0): Quantity {
    return { value, needs, row: EXACT };
  }

  /** Mean of quantities that share their influences. */
  mean(quantities: readonly Quantity[]): Quantity {
    const share = 1 / quantities.length;
    let mean = this.exact(0);
    for (const quantity of quantities) mean = this.linear(mean.value + share * quantity.value, mean.needs, mean, 1, quantity, share);
    return mean;
  }

  /** Computes a formula and records the metric and its step. */
  give(formula: Formula, a: Quantity, b = NOTHING, c = NOTHING, d = NOTHING): Quantity {
    return this.measured(formula, this.derive(formula, a, b, c, d), a, b, c, d);
  }

  /** Computes a formula without recording it; slopes are taken by differences. */
  derive({ compute }: Formula, a: Quantity, b = NOTHING, c = NOTHING, d = NOTHING): Quantity {
    const x = a.value;
    const y = b.value;
    const z = c.value;
    const w = d.value;
    let byA = 0;
    let byB = 0;
    let byC = 0;
    let byD = 0;
    if (a.row !== EXACT) {
      const h = stepOf(x);
      byA = (compute!(x + h, y, z, w) - compute!(x - h, y, z, w)) / (2 * h);
    }
    if (b.row !== EXACT) {
      const h = stepOf(y);
      byB = (compute!(x, y + h, z, w) - compute!(x, y - h, z, w)) / (2 * h);
    }
    if (c.row !== EXACT) {
      const h = stepOf(z);
      byC = (compute!(x, y, z + h, w) - compute!(x, y, z - h, w)) / (2 * h);
    }
    if (d.row !== EXACT) {
      const h = stepOf(w);
      byD = (compute!(x, y, z, w + h) - compute!(x, y, z, w - h)) / (2 * h);
    }
    const row = this.mixed(a.row, byA, b.row, byB, c.row, byC, d.row, byD);
    return { value: compute!(x, y, z, w), needs: a.needs | b.needs | c.needs | d.needs, row };
  }

  /** Records a value that a pass over the samples gave, with the instants or quantities it was taken between. */
  measured(formula: Formula, quantity: Quantity, a = NOTHING, b = NOTHING, c = NOTHING, d = NOTHING, e = NOTHING): Quantity {
    if (this.recorded !== undefined) this.recorded.push({ formula, value: quantity.value, inputs: [a, b, c, d, e] });
    if (!formula.inner && Number.isFinite(quantity.value)) {
      const { value, needs, row } = quantity;
      this.metrics.enter(new WorkedMetric(formula.gives, value, formula.unit, needs, this.rows, row, this.uncertaintyOf(row)), formula.place);
    }
    return quantity;
  }

  /** The contribution of one source to a quantity. */
  part(quantity: Quantity, source: number): number {
    return this.rows[quantity.row + source]!;
  }

  /** A value whose uncertainty is that of `byA a + byB b + byC c`. */
  linear(value: number, needs: number, a: Quantity, byA: number, b = NOTHING, byB = 0, c = NOTHING, byC = 0): Quantity {
    return { value, needs: needs | a.needs | b.needs | c.needs, row: this.mixed(a.row, byA, b.row, byB, c.row, byC, EXACT, 0) };
  }

  /** A quantity with shares of others added to what its uncertainty is made of. They go into its own row: `own` is used up, and nobody else may hold it. */
  widened(own: Quantity, a: Quantity, byA: number, b = NOTHING, byB = 0): Quantity {
    const { rows } = this;
    const { row } = own;
    if (a.row !== EXACT) for (let s = 0; s < SOURCE_COUNT; s++) rows[row + s]! += byA * rows[a.row + s]!;
    if (b.row !== EXACT) for (let s = 0; s < SOURCE_COUNT; s++) rows[row + s]! += byB * rows[b.row + s]!;
    return { value: own.value, needs: own.needs | a.needs | b.needs, row };
  }

  /** Takes out every metric that needs one of the groups; returns their ids with the bits that took them out. */
  remove(bits: number): Map<string, number> {
    const removed = new Map<string, number>();
    this.metrics.keep(({ id, needs }) => {
      if ((needs & bits) === 0) return true;
      removed.set(id, needs & bits);
      return false;
    });
    return removed;
  }

  steps(): readonly Step[] {
    const recorded = this.recorded ?? [];
    const last = new Map(recorded.map((step, k) => [step.formula.gives, k]));
    return recorded.filter((step, k) => last.get(step.formula.gives) === k).map(({ formula, value, inputs }) => ({
      gives: formula.gives,
      formula: formula.text,
      inputs: inputs.filter((input) => input !== NOTHING).map((input, k): StepInput => {
        const [symbol, unit, from] = formula.symbols[k]!;
        return from === undefined ? { symbol, unit, value: input.value } : { symbol, unit, value: input.value, from };
      }),
      value,
      unit: formula.unit,
    }));
  }

  private newRow(): number {
    const row = this.used;
    this.used += SOURCE_COUNT;
    while (this.rows.length < this.used) this.rows.push(0);
    return row;
  }

  /** Root of the summed squares of the contributions; none for an exact number. */
  private uncertaintyOf(row: number): number | undefined {
    if (row === EXACT) return undefined;
    const { rows } = this;
    let square = 0;
    for (let k = row; k < row + SOURCE_COUNT; k++) square += rows[k]! * rows[k]!;
    return Number.isFinite(square) ? Math.sqrt(square) : undefined;
  }

  /** A new row: the sum of shares of four others. An exact number has no share, whatever its factor. */
  private mixed(a: number, byA: number, b: number, byB: number, c: number, byC: number, d: number, byD: number): number {
    const row = this.newRow();
    const { rows } = this;
    const shareOfB = b === EXACT ? 0 : byB;
    const shareOfC = c === EXACT ? 0 : byC;
    for (let s = 0; s < SOURCE_COUNT; s++) {
      rows[row + s] = byA * rows[a + s]! + shareOfB * rows[b + s]! + shareOfC * rows[c + s]! + byD * rows[d + s]!;
    }
    return row;
  }
}

/** Difference over which a slope is taken: a step that neither rounding nor curvature spoils. */
function stepOf(value: number): number {
  return 1e-5 * Math.max(Math.abs(value), 1e-3);
}
