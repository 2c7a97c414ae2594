import type { Plate } from "./Trace.ts";

/** Steps tried, as whole numbers of steps in one newton, coarse to fine. */
const STEPS_PER_NEWTON = [1, 2, 4, 5, 10, 20, 40, 50, 100, 200, 400, 500, 1000, 10_000, 100_000, 1_000_000] as const;

/**
 * The coarsest grid, from 1 N to 0.000001 N, on which every force of all plates lies exactly.
 *
 * A force written with two decimals lies on the grid of 0.01 N in this sense: it is the double nearest to a whole
 * number divided by 100.
 *
 * @param plates Plates of a trace, N.
 * @param known Steps in one newton of a grid on which they are known to lie, 1/N; zero where none is known.
 * @returns Steps in one newton, 1/N; zero where the forces lie on none of the grids.
 */
export function stepsPerNewton(plates: readonly Plate[], known = 0): number {
  for (const steps of STEPS_PER_NEWTON) if (steps === known || liesOnGrid(plates, steps)) return steps;
  return 0;
}

/** Whether every force is a whole number divided by `steps`, to the last bit. */
export function liesOnGrid(plates: readonly Plate[], steps: number): boolean {
  for (const { force } of plates) {
    for (let i = 0; i < force.length; i++) if (Math.round(force[i] * steps) / steps !== force[i]) return false;
  }
  return true;
}
