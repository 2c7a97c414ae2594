/** Every id that a formula gives has a place of its own, the same in each table. */
const PLACES = new Map<string, number>();
const NOWHERE = -1;
/** A table without metrics; its copy is cheaper than a new list. */
const EMPTY: number[] = [];

/** The place of an id in every table that is made afterwards. */
export function placeOf(id: string): number {
  const known = PLACES.get(id);
  if (known !== undefined) return known;
  PLACES.set(id, EMPTY.length);
  return EMPTY.push(NOWHERE) - 1;
}

/** What is read of a map by id. */
export interface ById<Value> extends Iterable<readonly [string, Value]> {
  readonly size: number;
  get(id: string): Value | undefined;
  has(id: string): boolean;
  keys(): Iterable<string>;
  values(): Iterable<Value>;
}

/** Metrics by id, in the order in which their ids were first entered. To enter one costs a store in a list, where a map would hash and grow. */
export class MetricTable<Metric extends { readonly id: string }> implements ById<Metric> {
  private readonly list: Metric[] = [];
  /** Index in the list, by place. */
  private readonly at = EMPTY.slice();

  /** Enters a metric at the place of its id; the latest counts. */
  enter(metric: Metric, place: number): void {
    const index = this.at[place]!;
    // A place that came after the table has none.
    if (index >= 0) this.list[index] = metric;
    else this.at[place] = this.list.push(metric) - 1;
  }

  /** Takes out every metric but those that are wanted. */
  keep(wanted: (metric: Metric) => boolean): void {
    this.at.fill(NOWHERE);
    for (const metric of this.list.splice(0)) if (wanted(metric)) this.enter(metric, placeOf(metric.id));
  }

  get(id: string): Metric | undefined {
    return this.list[this.at[PLACES.get(id)!]!];
  }

  has(id: string): boolean {
    return this.get(id) !== undefined;
  }

  get size(): number {
    return this.list.length;
  }

  values(): Iterable<Metric> {
    return this.list;
  }

  keys(): Iterable<string> {
    return this.list.map(({ id }) => id);
  }

  [Symbol.iterator](): Iterator<readonly [string, Metric]> {
    return this.list.map((metric) => [metric.id, metric] as const).values();
  }
}
