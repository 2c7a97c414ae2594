import { describe, expect, test } from "vitest";
import { formulaInFile, formulaShown, usesArrays } from "../../../src/workbook/fileFormula.ts";

const FUNCTIONS = new Map([
  ["METRIC", true],
  ["VERDICT", false],
  ["HEIGHT_FLIGHT", true],
]);

/** Shown and stored forms. The prefixes: [MS-XLSX] section 2.2.2; `_xldudf_` as files in public repositories have it. */
const PAIRS = [
  ["=LEAP.HEIGHT_FLIGHT(0.5)", "_xldudf_LEAP_HEIGHT_FLIGHT(0.5)"],
  ['=LEAP.METRIC(Q2:T2,"CMJ","LEAP.METRIC(")', '_xldudf_LEAP_METRIC(Q2:T2,"CMJ","LEAP.METRIC(")'],
  ["=LEAP.NO_SUCH(1)", "LEAP.NO_SUCH(1)"],
  ["='LEAP.METRIC('!A1+1", "'LEAP.METRIC('!A1+1"],
  ["=FILTER(A1:A9,B1:B9=1)", "_xlfn._xlws.FILTER(A1:A9,B1:B9=1)"],
  ["=SORT(UNIQUE(A1:A9))", "_xlfn._xlws.SORT(_xlfn.UNIQUE(A1:A9))"],
  ["=STDEV.S(A1:A9)+XLOOKUP(1,A1:A9,B1:B9)", "_xlfn.STDEV.S(A1:A9)+_xlfn.XLOOKUP(1,A1:A9,B1:B9)"],
  ["=SUM(SEQUENCE(3))", "SUM(_xlfn.SEQUENCE(3))"],
  ["=LET(x,A1,y,x+1,x*y)+x", "_xlfn.LET(_xlpm.x,A1,_xlpm.y,_xlpm.x+1,_xlpm.x*_xlpm.y)+x"],
  ["=MAP(A1:A3,LAMBDA(each,each*2))", "_xlfn.MAP(A1:A3,_xlfn.LAMBDA(_xlpm.each,_xlpm.each*2))"],
  ["=AVERAGE(Trials[[#This Row],[x]],1)", "AVERAGE(Trials[[#This Row],[x]],1)"],
  ["= A1 +  B1", " A1 +  B1"],
] as const;

describe("formulaInFile and formulaShown", () => {
  test.each(PAIRS)("%s is stored as %s and comes back", (shown, stored) => {
    expect(formulaInFile(shown, FUNCTIONS)).toBe(stored);
    expect(formulaShown(stored, FUNCTIONS)).toBe(shown);
  });

  test("small letters are understood, and the sign for this row is spelled out", () => {
    expect(formulaInFile("=leap.metric(A1)", FUNCTIONS)).toBe("_xldudf_LEAP_METRIC(A1)");
    expect(formulaInFile("=Trials[@height]*2", FUNCTIONS)).toBe("Trials[[#This Row],[height]]*2");
  });

  test("operators that files write as functions are shown as operators", () => {
    expect(formulaShown("SUM(_xlfn.ANCHORARRAY(B2))", FUNCTIONS)).toBe("=SUM(B2#)");
    expect(formulaShown("_xlfn.SINGLE(A1:A3)+1", FUNCTIONS)).toBe("=@A1:A3+1");
    expect(formulaInFile("=SUM(B2#)+@A1:A3", FUNCTIONS)).toBe("SUM(_xlfn.ANCHORARRAY(B2))+_xlfn.SINGLE(A1:A3)");
  });

  test("text that is no formula passes unchanged", () => {
    expect(formulaInFile("=1+(", FUNCTIONS)).toBe("1+(");
    expect(formulaShown('"open', FUNCTIONS)).toBe('="open');
  });
});

describe("usesArrays", () => {
  test.each([
    ["=A1+B1", false],
    ["=SUM(A1:A9)", false],
    ["=IF(A1>0,\"a\",\"b\")", false],
    ["=LEAP.METRIC(Q2:T2,\"CMJ\",\"jumpHeight\",LeapSettings)", false],
    ["=LEAP.VERDICT(Q2:T2)&\"\"", false],
    ["=Trials[[#This Row],[x]]*2", false],
    ["=A1:A9", true],
    ["=SUM(A1:A9*B1:B9)", true],
    ["=SUM(--(A1:A9=1))", true],
    ["=AVERAGE(FILTER(A1:A9,B1:B9=1))", true],
    ["=SUM(Trials[x]*2)", true],
    ["=AVERAGE(LEAP.METRIC(Q2:T2,\"CMJ\",\"jumpHeight\")*2)", true],
    ["=SUM(IF(A1:A9>0,1,0))", true],
    ["=SUM(ROUND(A1:A9,0))", true],
    ["=LET(x,SEQUENCE(3),SUM(x))", true],
    ["={1,2,3}", true],
  ])("%s: %s", (formula, arrays) => {
    expect(usesArrays(formula, FUNCTIONS)).toBe(arrays);
  });
});
