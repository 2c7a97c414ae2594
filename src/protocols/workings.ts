import type { Contribution, MetricGroup, MetricValue, Step, StepInput } from "./Analysis.ts";
import { ownMemory, type Take } from "../trace/memory.ts";
import { SOURCE_COUNT, SOURCES } from "../uncertainty/sources.ts";

/** Groups as bits, so that a result inherits the needs of what it is made of. */
export const GROUP_BITS: Readonly<Record<MetricGroup, number>> = { T: 1, B: 2, V: 4, L: 8, A: 16 };
export const TIMES = 1;
export const WEIGHT = 2;
export const INTEGRAL = 4;
export const LANDING_GROUP = 8;
export const SIDES = 16;

/** Enough for a jump; a long series of hops needs more. */
const ROWS_AT_FIRST = 200;

/** A number on its way to a result: its value, what it needs, and what its uncertainty is made of. */
export interface Quantity {
  readonly value: number;
  /** Groups it needs, as bits. */
  readonly needs: number;
  /** Where its row of contributions starts; below zero for an exact number. */
  readonly row: number;
}

/** A symbol of a formula: as written, its unit, and the metric, event or setting it comes from. */
export type FormulaSymbol = readonly [symbol: string, unit: string, from?: string];

/** A formula: the text that is shown and the function that computes it, side by side. */
export interface Formula {
  /** Metric id, event name or the name of an inner quantity. */
  readonly gives: string;
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

/** Stands for an input that a formula does not have. */
const NOTHING: Quantity = { value: 0, needs: 0, row: -1 };

/** A metric that keeps its row of contributions, so that a ratio to another can use what they share. */
export class WorkedMetric implements MetricValue, Quantity {
  constructor(
    readonly id: string,
    readonly value: number,
    readonly unit: string,
    readonly needs: number,
    private rows: Float64Array,
    public row: number,
    public u: number | undefined,
  ) {}

  /** Contributions in the order of the sources; zeros where there are none. */
  get parts(): Float64Array {
    return this.row < 0 ? new Float64Array(SOURCE_COUNT) : this.rows.subarray(this.row, this.row + SOURCE_COUNT);
  }

  get budget(): readonly Contribution[] | undefined {
    if (this.u === undefined) return undefined;
    const budget: Contribution[] = [];
    this.parts.forEach((u, k) => {
      if (u !== 0) budget.push({ source: SOURCES[k]!, u: Math.abs(u) });
    });
    return budget.sort((a, b) => b.u - a.u);
  }

  /** Moves the row to where it is kept, and takes the uncertainty from it. */
  settle(rows: Float64Array, row: number): void {
    if (this.row < 0) return;
    let square = 0;
    for (let s = 0; s < SOURCE_COUNT; s++) {
      const part = this.rows[this.row + s]!;
      rows[row + s] = part;
      square += part * part;
    }
    if (Number.isFinite(square)) this.u = Math.sqrt(square);
    this.rows = rows;
    this.row = row;
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
  readonly metrics = new Map<string, WorkedMetric>();
  private readonly recorded: Recorded[] | undefined;
  /** Contributions to the uncertainty of each quantity, end to end. */
  private rows: Float64Array;
  private used = 0;

  /**
   * @param take Memory for what is needed while the trial is worked on; memory of its own where absent.
   * @param recording Whether each step is written down.
   */
  constructor(take: Take = ownMemory, recording = true) {
    this.rows = take(ROWS_AT_FIRST * SOURCE_COUNT).fill(0);
    if (recording) this.recorded = [];
  }

  /** A quantity that enters from outside: `parts` are its contributions as source, size, source, size ... */
  quantity(value: number, needs: number, ...parts: number[]): Quantity {
    const row = this.newRow();
    for (let k = 0; k + 1 < parts.length; k += 2) this.rows[row + parts[k]!] = this.rows[row + parts[k]!]! + parts[k + 1]!;
    return { value, needs, row };
  }

  /** A quantity that enters from outside, its contributions still to be put in: {@link quantity} without the list. */
  blank(value: number, needs: number): Quantity {
    return { value, needs, row: this.newRow() };
  }

  /** Puts a contribution into a quantity that was made with {@link blank}. */
  put(quantity: Quantity, source: number, u: number): void {
    this.rows[quantity.row + source] = u;
  }

  /** A number without uncertainty. */
  exact(value: number, needs = 0): Quantity {
    return { value, needs, row: -1 };
  }

  /** Mean of quantities that share their influences. */
  mean(quantities: readonly Quantity[]): Quantity {
    const row = this.newRow();
    const share = 1 / quantities.length;
    let value = 0;
    let needs = 0;
    for (const quantity of quantities) {
      value += share * quantity.value;
      needs |= quantity.needs;
      this.add(row, quantity, share);
    }
    return { value, needs, row };
  }

  /** Computes a formula and records the metric and its step. */
  give(formula: Formula, a: Quantity, b = NOTHING, c = NOTHING, d = NOTHING): Quantity {
    return this.measured(formula, this.derive(formula, a, b, c, d), a, b, c, d);
  }

  /** Computes a formula without recording it; slopes are taken by differences. */
  derive({ compute }: Formula, a: Quantity, b = NOTHING, c = NOTHING, d = NOTHING): Quantity {
    const row = this.newRow();
    const x = a.value;
    const y = b.value;
    const z = c.value;
    const w = d.value;
    if (a.row >= 0) {
      const h = stepOf(x);
      this.add(row, a, (compute!(x + h, y, z, w) - compute!(x - h, y, z, w)) / (2 * h));
    }
    if (b.row >= 0) {
      const h = stepOf(y);
      this.add(row, b, (compute!(x, y + h, z, w) - compute!(x, y - h, z, w)) / (2 * h));
    }
    if (c.row >= 0) {
      const h = stepOf(z);
      this.add(row, c, (compute!(x, y, z + h, w) - compute!(x, y, z - h, w)) / (2 * h));
    }
    if (d.row >= 0) {
      const h = stepOf(w);
      this.add(row, d, (compute!(x, y, z, w + h) - compute!(x, y, z, w - h)) / (2 * h));
    }
    return { value: compute!(x, y, z, w), needs: a.needs | b.needs | c.needs | d.needs, row };
  }

  /** Records a value that a pass over the samples gave, with the instants or quantities it was taken between. */
  measured(formula: Formula, quantity: Quantity, ...inputs: Quantity[]): Quantity {
    if (this.recorded !== undefined) this.recorded.push({ formula, value: quantity.value, inputs });
    if (!formula.inner && Number.isFinite(quantity.value)) {
      this.metrics.set(formula.gives, new WorkedMetric(formula.gives, quantity.value, formula.unit, quantity.needs, this.rows, quantity.row, undefined));
    }
    return quantity;
  }

  /** The latest quantity that a metric was entered with. */
  known(id: string): Quantity | undefined {
    return this.metrics.get(id);
  }

  /** The contribution of one source to a quantity. */
  part(quantity: Quantity, source: number): number {
    return quantity.row < 0 ? 0 : this.rows[quantity.row + source]!;
  }

  /** `a + factor * b` of the contributions of two quantities, with another value. */
  combined(value: number, needs: number, a: Quantity, b: Quantity, factor: number): Quantity {
    const row = this.newRow();
    const { rows } = this;
    if (a.row >= 0) for (let s = 0; s < SOURCE_COUNT; s++) rows[row + s] = rows[a.row + s]!;
    this.add(row, b, factor);
    return { value, needs: needs | a.needs | b.needs, row };
  }

  /** Takes out every metric that needs one of the groups; returns their ids with the bits that took them out. */
  remove(bits: number): Map<string, number> {
    const removed = new Map<string, number>();
    for (const [id, metric] of this.metrics) {
      if ((metric.needs & bits) !== 0) removed.set(id, metric.needs & bits);
    }
    for (const id of removed.keys()) this.metrics.delete(id);
    return removed;
  }

  /** Ends the work: the contributions of each metric move to memory of their own, and its uncertainty is taken from them. */
  settle(): ReadonlyMap<string, MetricValue> {
    const rows = new Float64Array(this.metrics.size * SOURCE_COUNT);
    let row = 0;
    for (const metric of this.metrics.values()) {
      metric.settle(rows, row);
      row += SOURCE_COUNT;
    }
    return this.metrics;
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
    if (this.used > this.rows.length) {
      const more = new Float64Array(2 * this.rows.length);
      more.set(this.rows);
      this.rows = more;
    }
    return row;
  }

  /** Adds a share of the contributions of a quantity to a row. */
  private add(row: number, { row: from }: Quantity, share: number): void {
    if (from < 0) return;
    const { rows } = this;
    for (let s = 0; s < SOURCE_COUNT; s++) rows[row + s] = rows[row + s]! + share * rows[from + s]!;
  }
}

/** Difference over which a slope is taken: a step that neither rounding nor curvature spoils. */
function stepOf(value: number): number {
  return 1e-5 * Math.max(Math.abs(value), 1e-3);
}
