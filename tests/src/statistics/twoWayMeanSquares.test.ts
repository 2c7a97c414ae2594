import { describe, expect, test } from "vitest";
import { twoWayMeanSquares } from "../../../src/statistics/twoWayMeanSquares.ts";

describe("twoWayMeanSquares", () => {
  // The example table of Shrout & Fleiss (1979), six targets by four judges.
  const table = Object.freeze(
    [
      [9, 2, 5, 8],
      [6, 1, 3, 2],
      [8, 4, 6, 8],
      [7, 1, 2, 6],
      [10, 5, 6, 9],
      [6, 2, 4, 7],
    ].map((row) => Object.freeze(row)),
  );

  // Shrout & Fleiss (1979), table 3: 11.24, 6.26, 32.49, 1.02; further digits by hand.
  test("gives the published mean squares", () => {
    const { between, within, trialsSquare, residual } = twoWayMeanSquares(table);
    expect(between).toBeCloseTo(11.241666666666667, 10);
    expect(within).toBeCloseTo(6.263888888888889, 10);
    expect(trialsSquare).toBeCloseTo(32.486111111111114, 10);
    expect(residual).toBeCloseTo(1.0194444444444444, 10);
  });

  // The sum of squares within people is the sum for trials and residual.
  test("parts add up", () => {
    const { within, trialsSquare, residual } = twoWayMeanSquares(table);
    expect(within * 18).toBeCloseTo(trialsSquare * 3 + residual * 15, 10);
  });

  test("leaves out people with a gap and counts them", () => {
    const { between, people, leftOut, gaps } = twoWayMeanSquares([...table, [5, undefined, 3, 4]]);
    expect(between).toBeCloseTo(11.241666666666667, 10);
    expect([people, leftOut, gaps]).toEqual([6, 1, 1]);
  });

  test("refuses fewer than two complete people", () => {
    expect(() => twoWayMeanSquares([[1, 2], [3, undefined]])).toThrow(expect.objectContaining({ code: "not-available" }));
    expect(() => twoWayMeanSquares([[1], [3]])).toThrow(expect.objectContaining({ code: "wrong-shape" }));
  });
});
