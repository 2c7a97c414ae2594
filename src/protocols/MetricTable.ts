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
    if (index >= 0) this.list[index] = metric;
    else this.at[place] = this.list.push(metric) - 1;
  }

  delete(id: string): void {
    const index = this.indexOf(id);
    if (index === NOWHERE) return;
    this.at[placeOf(id)] = NOWHERE;
    this.list.splice(index, 1);
    for (let k = index; k < this.list.length; k++) this.at[placeOf(this.list[k]!.id)] = k;
  }

  get(id: string): Metric | undefined {
    const index = this.indexOf(id);
    return index === NOWHERE ? undefined : this.list[index];
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

  *keys(): Iterable<string> {
    for (const { id } of this.list) yield id;
  }

  *[Symbol.iterator](): Iterator<readonly [string, Metric]> {
    for (const metric of this.list) yield [metric.id, metric];
  }

  private indexOf(id: string): number {
    const place = PLACES.get(id);
    return place === undefined ? NOWHERE : (this.at[place] ?? NOWHERE);
  }
}
