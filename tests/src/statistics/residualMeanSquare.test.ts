import { describe, expect, test } from "vitest";
import { twoWayMeanSquares } from "../../../src/statistics/twoWayMeanSquares.ts";
import { residualMeanSquare } from "../../../src/statistics/residualMeanSquare.ts";

describe("residualMeanSquare", () => {
  // NumPy 2: least squares of these twelve numbers on dummies for people and trials; residual 0.86476190 with 5 degrees of freedom.
  test("agrees with least squares on dummy variables where the table has gaps", () => {
    const table = [
      [34.1, 34.9, undefined],
      [38.6, 38.0, 38.9],
      [41.2, undefined, 42.3],
      [29.8, 30.1, 30.0],
      [undefined, 44.1, 45.0],
      [36.7, undefined, undefined],
    ].map((row) => Object.freeze(row));
    const { meanSquare, degreesOfFreedom } = residualMeanSquare(table, 3);
    expect(degreesOfFreedom).toBe(5);
    expect(meanSquare * 5).toBeCloseTo(0.8647619047619052, 10);
  });

  test("is the residual of the analysis of variance where the table is full", () => {
    const table = [
      [9, 2, 5, 8],
      [6, 1, 3, 2],
      [8, 4, 6, 8],
      [7, 1, 2, 6],
    ];
    expect(residualMeanSquare(table, 4).meanSquare).toBeCloseTo(twoWayMeanSquares(table).residual, 12);
    expect(residualMeanSquare(table, 4).degreesOfFreedom).toBe(9);
  });

  test("does not change when a whole trial is raised by the same amount", () => {
    const table = [
      [9, 2, undefined],
      [6, 1, 3],
      [8, undefined, 6],
      [7, 1, 2],
    ];
    const raised = table.map((row) => row.map((value, j) => (value === undefined || j !== 1 ? value : value + 100)));
    expect(residualMeanSquare(raised, 3).meanSquare).toBeCloseTo(residualMeanSquare(table, 3).meanSquare, 9);
  });

  // By hand: two islands, each of two people by two trials: one residual each, (d1 - d2)^2 / 4.
  test("handles trials that share no person", () => {
    const { meanSquare, degreesOfFreedom } = residualMeanSquare(
      [
        [1, 2, undefined, undefined],
        [2, 5, undefined, undefined],
        [undefined, undefined, 7, 8],
        [undefined, undefined, 9, 14],
      ],
      4,
    );
    expect(degreesOfFreedom).toBe(2);
    expect(meanSquare).toBeCloseTo(((3 - 1) ** 2 / 4 + (5 - 1) ** 2 / 4) / 2, 12);
  });

  test("refuses a table that leaves no error to estimate", () => {
    expect(() => residualMeanSquare([[1, 2], [3, undefined]], 2)).toThrow(
      expect.objectContaining({ name: "InputError", code: "not-available" }),
    );
  });

  test("people without a trial, or with one, count nothing", () => {
    const table = [
      [9, 2, 5],
      [6, 1, 3],
      [8, 4, 6],
    ];
    const more = [...table, [undefined, undefined, undefined], [7, undefined, undefined]];
    expect(residualMeanSquare(more, 3)).toEqual(residualMeanSquare(table, 3));
  });
});
