import { describe, expect, test } from "vitest";
import { joinTrials } from "../../../src/synthetic/joinTrials.ts";
import { syntheticTrial } from "../../../src/synthetic/syntheticTrial.ts";

describe("joinTrials", () => {
  test("puts trials end to end, plate by plate", () => {
    const a = syntheticTrial({ test: "CMJ" }).trace;
    const b = syntheticTrial({ test: "CMJ", height: 0.3 }).trace;
    const both = joinTrials([a, b]);
    expect(both.plates.map((plate) => plate.role)).toEqual(["left", "right"]);
    expect([...both.plates[1].force]).toEqual([...a.plates[1].force, ...b.plates[1].force]);
  });

  test("refuses trials of different rates or plates, and none", () => {
    const a = syntheticTrial({ test: "CMJ" }).trace;
    for (const traces of [[], [a, syntheticTrial({ test: "CMJ", rate: 500 }).trace], [a, syntheticTrial({ test: "CMJ", plates: "total" }).trace]]) {
      expect(() => joinTrials(traces)).toThrow(expect.objectContaining({ code: "wrong-shape" }));
    }
  });
});
