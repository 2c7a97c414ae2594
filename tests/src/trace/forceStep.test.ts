import { expect, test } from "vitest";
import { stepsPerNewton } from "../../../src/trace/forceStep.ts";

const plate = (...force: number[]) => [{ role: "total" as const, force: Float64Array.from(force) }];

test("stepsPerNewton finds the coarsest grid on which all values lie", () => {
  expect(stepsPerNewton(plate(1, 2, 700))).toBe(1);
  expect(stepsPerNewton(plate(403.5, 405.75))).toBe(4);
  expect(stepsPerNewton(plate(633.21, 628.46))).toBe(100);
  expect(stepsPerNewton(plate(392.891296))).toBe(1_000_000);
  expect(stepsPerNewton(plate(Math.PI))).toBe(0);
});

test("a grid that is known spares the look at every value, and a coarser one still wins", () => {
  expect(stepsPerNewton(plate(633.21, 628.46), 100)).toBe(100);
  expect(stepsPerNewton(plate(633.5, 628), 100)).toBe(2);
});
