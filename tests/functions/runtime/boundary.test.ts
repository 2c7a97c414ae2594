import fc from "fast-check";
import { beforeEach, describe, expect, test } from "vitest";
import { boundary, noteAnalysis } from "../../../functions/runtime/boundary.ts";
import { CellError } from "../../../functions/runtime/CellError.ts";
import { callsOf, cellKey, forgetCalls, startCalculation } from "../../../functions/runtime/callRecord.ts";
import { toCells } from "../../../functions/runtime/toCells.ts";
import { InputError, type InputErrorCode } from "../../../src/errors.ts";

const thrower = (error: unknown) => boundary("TEST", () => {
  throw error;
});

describe("boundary", () => {
  test("turns a left-out argument into undefined and drops what comes after the declared ones", () => {
    const seen: unknown[] = [];
    boundary("TEST", (...args: [unknown, unknown]) => seen.push(...args))(1, null);
    const two = boundary("TEST", (a: unknown, b: unknown) => {
      seen.push(a, b);
      return 1;
    });
    two(1, null, { address: "S!A1" });
    two();
    expect(seen).toEqual([1, undefined, undefined, undefined]);
  });

  test.each<[InputErrorCode, string]>([
    ["not-available", "#N/A"],
    ["not-a-number", "#VALUE!"],
    ["out-of-range", "#VALUE!"],
    ["wrong-shape", "#VALUE!"],
    ["unknown-name", "#VALUE!"],
    ["damaged", "#VALUE!"],
    ["too-large", "#VALUE!"],
    ["not-recognised", "#VALUE!"],
  ])("turns an InputError %s into %s with its sentence and place", (code, expected) => {
    expect(() => thrower(new InputError(code, "height requires a flight", "row 3"))()).toThrow(expect.objectContaining({ name: "CellError", code: expected, message: "height requires a flight (row 3)" }));
  });

  test("says of any other throw that the fault is its own", () => {
    for (const fault of [new TypeError("x is not a function"), "text", undefined]) {
      expect(() => thrower(fault)()).toThrow(expect.objectContaining({ name: "CellError", code: "#VALUE!", message: expect.stringContaining("fault of its own") as string }));
    }
  });
});

describe("toCells", () => {
  test("gives what a sheet takes: rectangular, no typed arrays, no NaN, no minus zero", () => {
    expect(toCells([new Float64Array([1, -0]), [2]])).toEqual([[1, 0], [2, ""]]);
    expect(toCells(new Float64Array([1, 2]))).toEqual([[1, 2]]);
    expect(toCells([])).toEqual([[""]]);
    expect(toCells(undefined)).toBe("");
    expect(toCells(null)).toBe("");
    expect(toCells(NaN)).toMatchObject({ code: "#N/A" });
    expect(toCells([[1, Infinity]])).toMatchObject([[1, { code: "#N/A" }]]);
    expect(toCells("x".repeat(32768))).toMatchObject({ code: "#VALUE!" });
    expect(toCells("x".repeat(32767))).toHaveLength(32767);
    expect(toCells([[10n, new Date(0), { a: 1 }]])).toMatchObject([[{ code: "#VALUE!" }, { code: "#VALUE!" }, { code: "#VALUE!" }]]);
  });

  test("holds for anything", () => {
    fc.assert(
      fc.property(fc.anything({ withTypedArray: true, withBigInt: true, withDate: true }), (value) => {
        const cells = toCells(value);
        const table = Array.isArray(cells) ? cells : [[cells]];
        expect(table.length).toBeGreaterThan(0);
        for (const row of table) {
          expect(row.length).toBe(table[0].length);
          for (const cell of row) expect(typeof cell === "string" || typeof cell === "boolean" || Number.isFinite(cell) || cell instanceof CellError).toBe(true);
        }
      }),
      { numRuns: 500 },
    );
  });
});

describe("call records", () => {
  beforeEach(() => {
    startCalculation();
    forgetCalls("Results!B2");
  });

  const square = boundary("SQUARE", (x: number) => x * x);
  const half = boundary("HALF", (x: number) => x / 2);
  const at = { address: "Results!B2" };

  test("keep cell, order, name, arguments and result of every call", () => {
    half(square(6, at), at);
    expect(callsOf("Results!$B$2")).toMatchObject([
      { call: 1, name: "SQUARE", args: [6], result: 36 },
      { call: 2, name: "HALF", args: [36], result: 18 },
    ]);
  });

  test("keep the error that a call gave", () => {
    expect(() => boundary("BAD", () => {
      throw new InputError("not-available", "height requires a flight");
    })(at)).toThrow();
    expect(callsOf("Results!B2")[0].result).toMatchObject({ code: "#N/A", message: "height requires a flight" });
  });

  test("are replaced when the same call runs again, and cleared by the next calculation of the cell", () => {
    square(6, at);
    square(6, at);
    expect(callsOf("Results!B2")).toHaveLength(1);
    square(7, at);
    expect(callsOf("Results!B2").map((record) => record.result)).toEqual([36, 49]);
    startCalculation();
    expect(callsOf("Results!B2")).toHaveLength(2);
    half(8, at);
    expect(callsOf("Results!B2").map((record) => record.name)).toEqual(["HALF"]);
  });

  test("name the analysis of the call and of no other", () => {
    boundary("METRIC", () => {
      noteAnalysis("analysis 7");
      return 1;
    })(at);
    square(1, at);
    expect(callsOf("Results!B2").map((record) => record.analysisKey)).toEqual(["analysis 7", undefined]);
  });

  test("cut long texts and large ranges", () => {
    const wide = boundary("WIDE", (range: unknown[][], text: string) => [[range.length, text.length]]);
    wide(Array.from({ length: 5000 }, (_, i) => [i, 2 * i]), "x".repeat(1000), at);
    expect(callsOf("Results!B2")[0].args).toEqual([
      { cut: "range", rows: 5000, columns: 2, firstRow: [0, 0] },
      { cut: "text", characters: 1000, start: "x".repeat(200) },
    ]);
  });

  test("are bounded in number of cells and of calls in a cell", () => {
    for (let i = 0; i < 6000; i++) square(i, { address: `Many!A${i + 1}` });
    expect(callsOf("Many!A1")).toEqual([]);
    expect(callsOf("Many!A6000")).toHaveLength(1);
    for (let i = 0; i < 100; i++) square(i, at);
    expect(callsOf("Results!B2")).toHaveLength(32);
    expect(callsOf("Results!B2").at(-1)?.result).toBe(99 * 99);
  });

  test("are found by any spelling of the address", () => {
    expect(new Set(["'My Sheet'!$B$2", "My Sheet!B2", "[Book1.xlsx]My Sheet!b2", "'[Book1.xlsx]My Sheet'!B2"].map(cellKey)).size).toBe(1);
    expect(cellKey("'O''Neil'!A1")).toBe("O'Neil!A1");
  });
});
