import { describe, expect, test } from "vitest";
import { traceFromColumns } from "../../../src/read/traceFromColumns.ts";

const forces = [700, 702, 650, 500, 1400, 1500, 300, 0, 0, 2100, 900, 700];
const times = forces.map((_, i) => i / 500);

describe("traceFromColumns", () => {
  test("reads one column as the total, at the rate given", () => {
    const { trace, notes } = traceFromColumns(forces.map((f) => [f]), 1000);
    expect(trace.rate).toBe(1000);
    expect(trace.plates).toEqual([{ role: "total", force: Float64Array.from(forces) }]);
    expect(trace.step).toBe(1);
    expect(notes).toEqual([]);
  });

  test("reads two columns as left and right", () => {
    const { trace } = traceFromColumns(forces.map((f) => [f * 0.5, f * 0.25]), 1000);
    expect(trace.plates.map((plate) => [plate.role, plate.force[4]])).toEqual([["left", 700], ["right", 350]]);
  });

  test("reads three columns as time, left and right, and takes the rate from the times", () => {
    const { trace } = traceFromColumns(forces.map((f, i) => [times[i], f, f]));
    expect(trace.rate).toBe(500);
    expect(trace.plates.map((plate) => plate.role)).toEqual(["left", "right"]);
  });

  test("takes a first of two columns for time when it rises evenly, in seconds or milliseconds", () => {
    expect(traceFromColumns(forces.map((f, i) => [times[i], f])).trace.rate).toBe(500);
    expect(traceFromColumns(forces.map((f, i) => [times[i] * 1000, f])).trace.rate).toBe(500);
    const { trace, notes } = traceFromColumns(forces.map((f, i) => [times[i], f]));
    expect(trace.plates).toHaveLength(1);
    expect(notes).toEqual(["the first column rises evenly and was read as time"]);
  });

  test("reads a head: names, order and unit", () => {
    const rows = [["Right (kN)", "Left (kN)", "t (ms)"], ...forces.map((f, i) => [f / 1000, f / 2000, i * 2])];
    const { trace } = traceFromColumns(rows);
    expect(trace.rate).toBe(500);
    expect(trace.plates.map((plate) => plate.role)).toEqual(["right", "left"]);
    expect(trace.plates[0].force[4]).toBeCloseTo(1400, 9);
  });

  test("cuts zeros at the end, as blank cells arrive, and says so", () => {
    const { trace, notes } = traceFromColumns([...forces, 0, 0, 0].map((f) => [f]), 1000);
    expect(trace.plates[0].force).toHaveLength(12);
    expect(notes.join()).toContain("3 rows of zeros at the end were taken as blank cells");
  });

  test("keeps zeros at the end where times stand beside them, as in a record that ends in flight", () => {
    const { trace, notes } = traceFromColumns([...forces.slice(0, 9)].map((f, i) => [times[i], f, f]));
    expect(trace.plates[0].force).toHaveLength(9);
    expect(notes).toEqual([]);
  });

  test("cuts a tail in which the times are blank too", () => {
    const rows = [...forces.map((f, i) => [times[i], f, f]), [0, 0, 0], [0, 0, 0]];
    expect(traceFromColumns(rows).trace.plates[0].force).toHaveLength(12);
    const blanks = [...forces.map((f, i) => [times[i], f, f]), ["", "", ""], [null, null, null]];
    expect(traceFromColumns(blanks).trace.plates[0].force).toHaveLength(12);
  });

  test("turns forces that are negative under load, and says so", () => {
    const { trace, notes } = traceFromColumns(forces.map((f) => [-f]), 1000);
    expect(trace.plates[0].force).toEqual(Float64Array.from(forces));
    expect(notes).toEqual(["forces are negative under load and were turned"]);
  });

  test("a rate given wins over the times", () => {
    expect(traceFromColumns(forces.map((f, i) => [times[i], f, f]), 250).trace.rate).toBe(250);
  });

  test.each([
    ["no rate", forces.map((f) => [f]), undefined, "wrong-shape", /sampling rate/],
    ["a rate of zero", forces.map((f) => [f]), 0, "out-of-range", /above zero/],
    ["text among numbers", [[700], [701], ["x"], [702]], 1000, "not-a-number", /row 3 of the range, column 1, and there stands “x”/],
    ["a blank among numbers", [[700], [""], [701], [702]], 1000, "not-a-number", /row 2 .* blank/],
    ["four columns", [[1, 2, 3, 4], [1, 2, 3, 4], [1, 2, 3, 4]], 1000, "wrong-shape", /there are 4/],
    ["two rows", [[700], [701]], 1000, "wrong-shape", /three rows/],
    ["nothing", [], 1000, "wrong-shape", /there are 0/],
    ["times that jump", forces.map((f, i) => [times[i] + (i > 5 ? 1 : 0), f, f]), undefined, "out-of-range", /row 7 of the range the time goes from 0.01 to 1.012/],
    ["times that stand", forces.map((f) => [1, f, f]), undefined, "out-of-range", /rise/],
  ] as const)("refuses %s", (_what, rows, rate, code, message) => {
    expect(() => traceFromColumns(rows, rate)).toThrow(expect.objectContaining({ name: "InputError", code, message: expect.stringMatching(message) }));
  });
});
