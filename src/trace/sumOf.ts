/**
 * Sum of a stretch of values, `sum x_i, start <= i < end`, in four strands: an addition need not wait for the one before.
 *
 * @param values Values of any unit. @param start First index. @param end Index after the last.
 * @returns Sum, in the unit of the values; 0 where the stretch is empty.
 */
export function sumOf(values: Float64Array, start: number, end: number): number {
  let a = 0;
  let b = 0;
  let c = 0;
  let d = 0;
  let i = start;
  for (; i + 3 < end; i += 4) {
    a += values[i]!;
    b += values[i + 1]!;
    c += values[i + 2]!;
    d += values[i + 3]!;
  }
  for (; i < end; i++) a += values[i]!;
  return a + b + (c + d);
}
