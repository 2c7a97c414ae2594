import type { Contribution, MetricGroup, MetricValue, Step, StepInput } from "./Analysis.ts";
import { SOURCE_COUNT, SOURCES } from "../uncertainty/sources.ts";

/** Groups as bits, so that a result inherits the needs of what it is made of. */
export const GROUP_BITS: Readonly<Record<MetricGroup, number>> = { T: 1, B: 2, V: 4, L: 8, A: 16 };
export const TIMES = 1;
export const WEIGHT = 2;
export const INTEGRAL = 4;
export const LANDING_GROUP = 8;
export const SIDES = 16;

const ROWS_AT_FIRST = 160;

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
  readonly inner?: boolean;
  /** Absent where a pass over the samples gives the value. */
  readonly compute?: (a: number, b: number, c: number, d: number) => number;
}

interface Recorded {
  readonly formula: Formula;
  readonly value: number;
  readonly inputs: readonly Quantity[];
}

/** A metric that keeps its row of contributions, so that a ratio to another can use what they share. */
export class WorkedMetric implements MetricValue, Quantity {
  constructor(
    readonly id: string,
    readonly value: number,
    readonly unit: string,
    readonly u: number | undefined,
    readonly needs: number,
    private readonly rows: Rows,
    readonly row: number,
  ) {}

  /** Contributions in the order of the sources; zeros where there are none. */
  get parts(): readonly number[] {
    return this.row < 0 ? new Array<number>(SOURCE_COUNT).fill(0) : this.rows.values.slice(this.row, this.row + SOURCE_COUNT);
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
  const ofA = a.parts;
  const ofB = b.parts;
  const values = ofA.map((u, k) => byA * u + byB * ofB[k]!);
  const known = a.u !== undefined || b.u !== undefined;
  return new WorkedMetric(id, value, unit, known ? Math.hypot(...values) : undefined, a.needs | b.needs, { values }, 0);
}

/** Rows of contributions of one trial, end to end. */
interface Rows {
  readonly values: number[];
}

/** Computes, and records what was computed: values, steps and uncertainties of one trial. */
export class Workings {
  readonly metrics = new Map<string, WorkedMetric>();
  private readonly recorded: Recorded[] = [];
  private readonly table: Rows = { values: new Array<number>(ROWS_AT_FIRST * SOURCE_COUNT).fill(0) };
  private used = 0;

  /** A quantity that enters from outside: `parts` are its contributions as source, size, source, size ... */
  quantity(value: number, needs: number, ...parts: number[]): Quantity {
    const row = this.newRow();
    const rows = this.table.values;
    for (let k = 0; k + 1 < parts.length; k += 2) rows[row + parts[k]!] = rows[row + parts[k]!]! + parts[k + 1]!;
    return { value, needs, row };
  }

  /** A quantity that enters from outside, its contributions still to be put in: {@link quantity} without the list. */
  blank(value: number, needs: number): Quantity {
    return { value, needs, row: this.newRow() };
  }

  /** Adds a contribution to a quantity that was made with {@link blank}. */
  put(quantity: Quantity, source: number, u: number): void {
    this.table.values[quantity.row + source] = u;
  }

  /** A number without uncertainty. */
  exact(value: number, needs = 0): Quantity {
    return { value, needs, row: -1 };
  }

  /** Mean of quantities that share their influences. */
  mean(quantities: readonly Quantity[]): Quantity {
    const row = this.newRow();
    const rows = this.table.values;
    const share = 1 / quantities.length;
    let value = 0;
    let needs = 0;
    for (const quantity of quantities) {
      value += share * quantity.value;
      needs |= quantity.needs;
      for (let s = 0; s < SOURCE_COUNT; s++) rows[row + s] = rows[row + s]! + share * this.part(quantity, s);
    }
    return { value, needs, row };
  }

  /** Computes a formula and records the metric and its step. */
  give(formula: Formula, a: Quantity, b?: Quantity, c?: Quantity, d?: Quantity): Quantity {
    const inputs = d ? [a, b!, c!, d] : c ? [a, b!, c] : b ? [a, b] : [a];
    const quantity = this.evaluated(formula, inputs);
    this.recorded.push({ formula, value: quantity.value, inputs });
    if (formula.inner !== true) this.enter(formula, quantity);
    return quantity;
  }

  /** Computes a formula without recording it. */
  derive(formula: Formula, ...inputs: Quantity[]): Quantity {
    return this.evaluated(formula, inputs);
  }

  private evaluated(formula: Formula, inputs: readonly Quantity[]): Quantity {
    const [a, b, c, d] = inputs as readonly [Quantity, Quantity?, Quantity?, Quantity?];
    const x0 = a.value;
    const x1 = b ? b.value : 0;
    const x2 = c ? c.value : 0;
    const x3 = d ? d.value : 0;
    const compute = formula.compute!;
    const value = compute(x0, x1, x2, x3);
    const row = this.newRow();
    const rows = this.table.values;
    let needs = 0;
    for (let k = 0; k < inputs.length; k++) {
      const input = inputs[k]!;
      needs |= input.needs;
      if (input.row < 0) continue;
      const h = 1e-5 * Math.max(Math.abs(input.value), 1e-3);
      const slope =
        k === 0
          ? (compute(x0 + h, x1, x2, x3) - compute(x0 - h, x1, x2, x3)) / (2 * h)
          : k === 1
            ? (compute(x0, x1 + h, x2, x3) - compute(x0, x1 - h, x2, x3)) / (2 * h)
            : k === 2
              ? (compute(x0, x1, x2 + h, x3) - compute(x0, x1, x2 - h, x3)) / (2 * h)
              : (compute(x0, x1, x2, x3 + h) - compute(x0, x1, x2, x3 - h)) / (2 * h);
      const from = input.row;
      for (let s = 0; s < SOURCE_COUNT; s++) rows[row + s] = rows[row + s]! + slope * rows[from + s]!;
    }
    return { value, needs, row };
  }

  /** Records a value that a pass over the samples gave, with the instants or quantities it was taken between. */
  measured(formula: Formula, quantity: Quantity, ...inputs: Quantity[]): Quantity {
    this.recorded.push({ formula, value: quantity.value, inputs });
    if (formula.inner !== true) this.enter(formula, quantity);
    return quantity;
  }

  /** The latest quantity that a metric was entered with. */
  known(id: string): Quantity | undefined {
    return this.metrics.get(id);
  }

  /** The contribution of one source to a quantity. */
  part(quantity: Quantity, source: number): number {
    return quantity.row < 0 ? 0 : this.table.values[quantity.row + source]!;
  }

  /** `a + factor * b` of the contributions of two quantities, with another value. */
  combined(value: number, needs: number, a: Quantity, b: Quantity, factor: number): Quantity {
    const row = this.newRow();
    const rows = this.table.values;
    if (a.row >= 0) for (let s = 0; s < SOURCE_COUNT; s++) rows[row + s] = rows[a.row + s]!;
    if (b.row >= 0) for (let s = 0; s < SOURCE_COUNT; s++) rows[row + s] = rows[row + s]! + factor * rows[b.row + s]!;
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

  steps(): readonly Step[] {
    const last = new Map(this.recorded.map((step, k) => [step.formula.gives, k]));
    return this.recorded.filter((step, k) => last.get(step.formula.gives) === k).map(({ formula, value, inputs }) => ({
      gives: formula.gives,
      formula: formula.text,
      inputs: inputs.map((input, k): StepInput => {
        const [symbol, unit, from] = formula.symbols[k]!;
        return from === undefined ? { symbol, unit, value: input.value } : { symbol, unit, value: input.value, from };
      }),
      value,
      unit: formula.unit,
    }));
  }

  private enter(formula: Formula, quantity: Quantity): void {
    if (!Number.isFinite(quantity.value)) return;
    let u: number | undefined;
    if (quantity.row >= 0) {
      const rows = this.table.values;
      let square = 0;
      for (let k = quantity.row; k < quantity.row + SOURCE_COUNT; k++) square += rows[k]! * rows[k]!;
      if (Number.isFinite(square)) u = Math.sqrt(square);
    }
    this.metrics.set(formula.gives, new WorkedMetric(formula.gives, quantity.value, formula.unit, u, quantity.needs, this.table, quantity.row));
  }

  private newRow(): number {
    const row = this.used;
    this.used += SOURCE_COUNT;
    const { values } = this.table;
    while (values.length < this.used) values.push(0);
    return row;
  }
}
