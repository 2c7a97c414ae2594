import { describe, expect, test } from "vitest";
import { dateInName } from "../../../taskpane/pane/bringIn/dateInName.ts";
import { factsOf } from "../../../taskpane/pane/bringIn/factsOf.ts";
import type { CommonFacts } from "../../../taskpane/pane/bringIn/IncomingFile.ts";

describe("dateInName", () => {
  test.each([
    ["ana_2026-03-14_cmj1.csv", "2026-03-14"],
    ["20260314_ana.txt", "2026-03-14"],
    ["ana 14.03.2026 sj.txt", "2026-03-14"],
    ["ana_03-25-2026.csv", "2026-03-25"],
    ["ana_03-04-2026.csv", ""],
    ["ana_2026-02-30.csv", ""],
    ["trial_120260314.csv", ""],
    ["cmj1.csv", ""],
  ])("%s: %s", (name, date) => {
    expect(dateInName(name)).toBe(date);
  });
});

describe("factsOf", () => {
  const common: CommonFacts = { athlete: "", date: "", test: "DJ", arms: "hips", limb: "", dropHeight: "0,30", load: "", mass: "61" };

  test("reads a decimal comma and leaves out what was not stated", () => {
    expect(factsOf(common)).toEqual({ protocol: { test: "DJ", arms: "hips", dropHeight: 0.3 }, mass: 61, problems: {} });
  });
  test("leaves the drop height out of a test without one", () => {
    expect(factsOf({ ...common, test: "CMJ" }).protocol).toEqual({ test: "CMJ", arms: "hips" });
  });
  test("leaves the arms out of an isometric pull", () => {
    expect(factsOf({ ...common, test: "IMTP" }).protocol).toEqual({ test: "IMTP" });
  });
  test("says which field is no number, and which is below zero", () => {
    expect(factsOf({ ...common, dropHeight: "high", load: "-5" }).problems).toEqual({ dropHeight: "Drop height, m requires a number", load: "Load, kg requires a number of zero or more" });
  });
});
