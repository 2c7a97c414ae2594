import { describe, expect, test } from "vitest";
import fc from "fast-check";
import { cellReferences, formulaParts, leapCalls } from "../../../taskpane/explain/leapCalls.ts";

describe("leapCalls", () => {
  test("gives the name, the span and the argument texts of a plain call", () => {
    const formula = '=LEAP.METRIC(N2:Q2,$I2,"jumpHeight cm",LeapSettings)';
    const [call] = leapCalls(formula);
    expect(call.name).toBe("METRIC");
    expect(formula.slice(call.start, call.end)).toBe(formula.slice(1));
    expect(call.args).toEqual(["N2:Q2", "$I2", '"jumpHeight cm"', "LeapSettings"]);
  });

  test("finds calls inside other functions and inside each other, outer before inner", () => {
    const calls = leapCalls('=IF(A1>0,LEAP.METRIC(LEAP.PACK(A2:A9,1000),"CMJ","jumpHeight"),leap.rsi(0.3,0.2))');
    expect(calls.map((call) => [call.name, call.depth])).toEqual([["METRIC", 0], ["PACK", 1], ["RSI", 0]]);
  });

  test("does not take text that looks like a call for one", () => {
    expect(leapCalls('="LEAP.METRIC(A1)"&A1')).toEqual([]);
    expect(leapCalls("LEAP.METRIC(A1)")).toEqual([]);
  });

  test("knows the name under which a workbook file stores the function", () => {
    expect(leapCalls("=_xldudf_LEAP_HEIGHT_FLIGHT(0.5)").map((call) => call.name)).toEqual(["HEIGHT_FLIGHT"]);
  });

  test("gives an empty text for an argument that was left out", () => {
    expect(leapCalls("=LEAP.ANALYSE(A1,B1,,D1)")[0].args).toEqual(["A1", "B1", "", "D1"]);
  });

  test("gives nothing for a formula that cannot be parsed", () => {
    expect(leapCalls("=LEAP.METRIC(A1;B1")).toEqual([]);
  });
});

describe("formulaParts", () => {
  test("gives every character to the innermost call around it", () => {
    const formula = '=IF(A1,LEAP.METRIC(LEAP.PACK(A2:A9,1000),"CMJ","jumpHeight"),0)';
    const parts = formulaParts(formula, leapCalls(formula));
    expect(parts.map((part) => [part.text, part.call])).toEqual([
      ["=IF(A1,", undefined],
      ["LEAP.METRIC(", 0],
      ["LEAP.PACK(A2:A9,1000)", 1],
      [',"CMJ","jumpHeight")', 0],
      [",0)", undefined],
    ]);
  });

  // Law: cutting loses and adds nothing.
  test("joined again gives the formula", () => {
    const argument = fc.constantFrom("A1", "0.5", '"x"', "LEAP.RSI(1,2)", "SUM(LEAP.HEIGHT_FLIGHT(B2),1)");
    fc.assert(
      fc.property(fc.array(argument, { minLength: 1, maxLength: 4 }), (list) => {
        const formula = `=LEAP.METRIC(${list.join(",")})+${list[0]}`;
        expect(formulaParts(formula, leapCalls(formula)).map((part) => part.text).join("")).toBe(formula);
      }),
    );
  });
});

describe("cellReferences", () => {
  test("gives cells and ranges, and neither names nor table columns", () => {
    expect(cellReferences('=LEAP.METRIC(Trials!N2:Q2,$I2,"A1",LeapSettings)+Trials[[#This Row],[x1]]')).toEqual(["Trials!N2:Q2", "$I2"]);
  });
});
