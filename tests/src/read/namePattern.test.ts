import { describe, expect, test } from "vitest";
import { patternByExample, readByPattern } from "../../../src/read/namePattern.ts";

describe("patternByExample", () => {
  test("puts the parts where they stand and keeps what is between them", () => {
    const pattern = patternByExample("anna_CMJ_2031-02-28_3.csv", { athlete: "anna", test: "CMJ", date: "2031-02-28", trial: "3" });
    expect(pattern).toBe("{athlete}_{test}_{date:ymd}_{trial}");
    expect(readByPattern(pattern, "Ben Example_DJ_2031-03-01_12.txt")).toEqual({ athlete: "Ben Example", test: "DJ", date: "2031-03-01", trial: "12" });
  });

  test("reads a folder where a part stands in one, with either slash", () => {
    const pattern = patternByExample("season/U19/anna/CMJ (2).csv", { athlete: "anna", test: "CMJ", trial: "2" });
    expect(pattern).toBe("{athlete}/{test} ({trial})");
    expect(readByPattern(pattern, "C:\\data\\U19\\ben\\SJ (10).csv")).toEqual({ athlete: "ben", test: "SJ", trial: "10" });
  });

  test("takes other digits as changing from file to file", () => {
    const pattern = patternByExample("session07_anna_SJ.csv", { athlete: "anna", test: "SJ" });
    expect(pattern).toBe("session{*}_{athlete}_{test}");
    expect(readByPattern(pattern, "session12_ben_CMJ.csv")).toEqual({ athlete: "ben", test: "CMJ" });
  });

  test.each([
    ["28.02.2031", "{date:dmy}"],
    ["02-28-2031", "{date:mdy}"],
    ["20310228", "{date:ymd}"],
    ["2031_02_28", "{date:ymd}"],
  ])("tells the order of the date %s", (date, field) => {
    const pattern = patternByExample(`${date} anna.csv`, { athlete: "anna", date });
    expect(pattern).toBe(`${field} {athlete}`);
    expect(readByPattern(pattern, `${date} anna.csv`)?.date).toBe("2031-02-28");
  });

  test("does not take a trial number out of a date", () => {
    expect(patternByExample("3_anna_2031-03-13.csv", { athlete: "anna", trial: "3" })).toMatch(/^\{trial\}_\{athlete\}/);
  });

  test.each([
    [{ athlete: "carl" }, /“carl” does not/],
    [{}, /at least one part/],
    [{ athlete: "anna_C", test: "CMJ" }, /overlap/],
  ])("refuses parts %j that do not fit", (parts, message) => {
    expect(() => patternByExample("anna_CMJ.csv", parts)).toThrow(expect.objectContaining({ code: "not-recognised", message: expect.stringMatching(message) }));
  });
});

describe("readByPattern", () => {
  test("gives nothing for a name that does not follow it or a day that does not exist", () => {
    expect(readByPattern("{athlete}_{test}", "anna.csv")).toBeUndefined();
    expect(readByPattern("{athlete}_{date:ymd}", "anna_2031-02-30.csv")).toBeUndefined();
    expect(readByPattern("{athlete}_{trial}", `${"_".repeat(5000)}x.csv`)).toBeUndefined();
  });

  test("treats marks of regular expressions as text", () => {
    expect(readByPattern("(a+)+{athlete}.*", "(a+)+ben.*.csv")).toEqual({ athlete: "ben" });
  });

  // The first has 200 over 5 ways, 2.5 thousand million, none of which fits; tried one by one they take minutes.
  test.each([
    ["{*}{*}{*}{*}{*}{athlete}!", "a".repeat(200)],
    ["{athlete}_{*}_{*}_{*}_{test}_{trial}", `${"a_".repeat(98)}!`],
    ["{date}{date}{date}{date}{date}{athlete}!", "1-".repeat(100)],
  ])("answers at once for a pattern and a name made to be slow: %s", (pattern, name) => {
    const start = performance.now();
    expect(readByPattern(pattern, name)).toBeUndefined();
    expect(performance.now() - start).toBeLessThan(1000);
  });

  test("takes the shortest name and the longest trial that fit, in any capitals", () => {
    expect(readByPattern("S{athlete}{*}_{trial}{*}", "sab_1234 x.csv")).toEqual({ athlete: "a", trial: "1234" });
    expect(readByPattern("{athlete}_cmj", "İpek_CMJ.csv")).toEqual({ athlete: "İpek" });
    expect(readByPattern("İ{athlete}_cmj", "İpek_CMJ.csv")).toEqual({ athlete: "pek" });
  });

  test("refuses a pattern without a part", () => {
    expect(() => readByPattern("abc{*}", "abc1.csv")).toThrow(expect.objectContaining({ code: "not-recognised" }));
  });
});
