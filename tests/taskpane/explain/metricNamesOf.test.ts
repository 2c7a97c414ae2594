import { describe, expect, test } from "vitest";
import { metricNamesOf } from "../../../taskpane/explain/metricNamesOf.ts";
import type { CallRecord } from "../../../functions/runtime/callRecord.ts";

const metric = (names: unknown): CallRecord => ({ cell: "S!A1", call: 1, name: "METRIC", args: ["t", "CMJ", names], result: 0 });

describe("metricNamesOf", () => {
  test("finds the metric of a column in a spilled row", () => {
    expect(metricNamesOf(metric([["jumpHeight cm", "verdict", "peakForce"]]), 0, 2)).toEqual({ names: ["jumpHeight cm", "peakForce"], chosen: 1 });
  });
  test("chooses none where the cell shows a text such as the verdict", () => {
    expect(metricNamesOf(metric([["jumpHeight cm", "verdict"]]), 0, 1).chosen).toBe(-1);
  });
  test("finds the metric of a row in a spilled column", () => {
    expect(metricNamesOf(metric([["jumpHeight"], ["peakForce"]]), 1, 0).chosen).toBe(1);
  });
  test("takes a single name as it is", () => {
    expect(metricNamesOf(metric("jumpHeight"), 0, 0)).toEqual({ names: ["jumpHeight"], chosen: 0 });
  });
  test("reads the row of a table of all metrics, below its head", () => {
    const record: CallRecord = { cell: "S!A1", call: 1, name: "ANALYSE", args: [], result: [["metric", "value"], ["jumpHeight", 0.3], ["peakForce", 1800]] };
    expect(metricNamesOf(record, 2, 1)).toEqual({ names: ["jumpHeight", "peakForce"], chosen: 1 });
  });
  test("knows the metric of a closed form, and none for other functions", () => {
    expect(metricNamesOf({ ...metric(""), name: "HEIGHT_FLIGHT" }, 0, 0).names).toEqual(["jumpHeightFlightTime"]);
    expect(metricNamesOf({ ...metric(""), name: "PROTOCOL" }, 0, 0).chosen).toBe(-1);
  });
});
