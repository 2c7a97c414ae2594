import { describe, expect, test } from "vitest";
import { leapCalls } from "../../../taskpane/explain/leapCalls.ts";
import { matchRecords } from "../../../taskpane/explain/matchRecords.ts";
import type { CallRecord } from "../../../functions/runtime/callRecord.ts";

const record = (call: number, name: string, args: unknown[], result: unknown = 1): CallRecord => ({ cell: "S!A1", call, name, args, result });
const results = (formula: string, records: CallRecord[]): unknown[] => matchRecords(leapCalls(formula), records).map((found) => found?.result);

describe("matchRecords", () => {
  test("gives inner and outer calls their own records", () => {
    expect(results('=LEAP.METRIC(LEAP.PACK(A2:A9,1000),"CMJ","jumpHeight")', [record(1, "PACK", [[[1]], 1000], "packed"), record(2, "METRIC", ["packed", "CMJ", "jumpHeight"], 0.3)])).toEqual([0.3, "packed"]);
  });

  test("pairs several calls of one function in the order in which they ran", () => {
    expect(results("=LEAP.RSI(A1,A2)-LEAP.RSI(B1,B2)", [record(1, "RSI", [0.3, 0.2], 1.5), record(2, "RSI", [0.4, 0.2], 2)])).toEqual([1.5, 2]);
  });

  test("leaves a call that was not reached without a record", () => {
    expect(results('=IF(A1,LEAP.METRIC(B1,"CMJ","jumpHeight"),LEAP.METRIC(B1,"CMJ","peakForce"))', [record(1, "METRIC", ["packed", "CMJ", "peakForce"], 1800)])).toEqual([undefined, 1800]);
  });

  test("gives calls of the same text the one record that was kept of them", () => {
    expect(results("=LEAP.RSI(A1,A2)+LEAP.RSI(A1,A2)", [record(1, "RSI", [0.3, 0.2], 1.5)])).toEqual([1.5, 1.5]);
  });

  test("reads a literal through a one-cell range", () => {
    expect(results('=LEAP.METRIC(A1,"SJ","a")&LEAP.METRIC(A1,"CMJ","a")', [record(1, "METRIC", [[["t"]], [["CMJ"]], [["a"]]], "second")])).toEqual([undefined, "second"]);
  });

  test("pairs all in order where every call was reached, though a host changed an argument", () => {
    expect(results('=LEAP.METRIC(A1,"CMJ","a","")', [record(1, "METRIC", ["t", "CMJ", "a", undefined], 3)])).toEqual([3]);
  });

  test("gives nothing where nothing was calculated", () => {
    expect(results("=LEAP.RSI(1,2)", [])).toEqual([undefined]);
  });
});
