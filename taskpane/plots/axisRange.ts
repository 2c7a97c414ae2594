/** Limits of an upright axis that always hold zero, with a little air above and below what is not zero. */
export function axisRange(low: number | null, high: number | null): [number, number] {
  const from = Math.min(low ?? 0, 0);
  const to = Math.max(high ?? 1, 0);
  const air = Math.max((to - from) * 0.06, 1e-9);
  return [from < 0 ? from - air : 0, to > 0 ? to + air : 0];
}
