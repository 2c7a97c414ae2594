import { describe, expect, test } from "vitest";
import { analysesKept, analysisByKey, analysisFrom } from "../../../functions/runtime/analyses.ts";
import { boundary } from "../../../functions/runtime/boundary.ts";
import { callsOf } from "../../../functions/runtime/callRecord.ts";
import { settingsFromArgument } from "../../../functions/runtime/settingsFromArgument.ts";
import { traceFromArgument } from "../../../functions/runtime/traceFromArgument.ts";
import { DEFAULT_SETTINGS } from "../../../src/settings/defaultSettings.ts";
import { SETTINGS } from "../../../src/settings/definitions.ts";
import { syntheticTrial } from "../../../src/synthetic/syntheticTrial.ts";
import { packTrace } from "../../../src/trace/packTrace.ts";

const packed = (seed: number) => [[...packTrace(syntheticTrial({ test: "CMJ", seed, faults: { noise: 1, sway: 2 } }).trace)]];
const analyse = (trace: unknown, protocol = "CMJ", settings?: unknown, adjust?: unknown, rate?: unknown) => analysisFrom(trace, protocol, settings, adjust, rate);

describe("kept analyses", () => {
  const one = packed(1);

  test("are computed once for equal content, also from other arrays and with blank cells behind", () => {
    const first = analyse(one);
    expect(analyse([[`${one[0][0]}`, "", 0, null]])).toBe(first);
    expect(analyse([[one[0][0]], [""]])).toBe(first);
  });

  test("differ with trace, protocol, settings and adjust", () => {
    const first = analyse(one);
    expect(analyse(packed(2))).not.toBe(first);
    expect(analyse(one, "CMJ arms=hips")).not.toBe(first);
    expect(analyse(one, "CMJ", [["gravity", 9.81]])).not.toBe(first);
    expect(analyse(one, "CMJ", undefined, "bodyWeight=740")).not.toBe(first);
    expect(analyse(one, "CMJ", [["gravity", DEFAULT_SETTINGS.values.gravity]])).toBe(first);
  });

  test("share the trace they are of: other settings read no cell again", () => {
    const first = analyse(packed(3));
    expect(analyse(packed(3), "CMJ", [["gravity", 9.82]]).trace).toBe(first.trace);
    expect(analyse(packed(3), "CMJ arms=hips").trace).toBe(first.trace);
    expect(analyse(packed(4)).trace).not.toBe(first.trace);
  });

  test("are found from the record of the call that used them", () => {
    const verdict = boundary("VERDICT", (trace: unknown) => analyse(trace).verdict);
    verdict(one, { address: "Results!C3" });
    expect(analysisByKey(callsOf("Results!C3")[0].analysisKey ?? "")).toBe(analyse(one));
    expect(analysisByKey("analysis of nothing")).toBeUndefined();
  });

  test("make way, oldest first, when they would hold more than 256 MB", () => {
    const first = analyse(one);
    const { trace } = first;
    const rows = (shift: number) => Array.from({ length: 60_000 }, (_, i) => [700 + shift + (i % 7), 701 + (i % 5)]);
    for (let i = 0; i < 80; i++) {
      analyse(rows(i), "CMJ", undefined, undefined, 1000);
      expect(analysesKept().bytes).toBeLessThanOrEqual(256 * 1024 * 1024);
    }
    expect(analyse(one)).not.toBe(first);
    expect(analyse(one).trace).not.toBe(trace);
  }, 60_000);
});

describe("a trace argument", () => {
  test("is keyed by content: one changed number or another rate gives another key", () => {
    const rows = Array.from({ length: 500 }, (_, i) => [700 + Math.sin(i)]);
    const { key } = traceFromArgument(rows, 1000);
    expect(traceFromArgument(rows.map((row) => [...row]), 1000).key).toBe(key);
    expect(traceFromArgument(rows, 500).key).not.toBe(key);
    for (const changed of [0, 250, 499]) {
      const other = rows.map((row, i) => [i === changed ? row[0] + 1e-12 : row[0]]);
      expect(traceFromArgument(other, 1000).key).not.toBe(key);
    }
    expect(traceFromArgument([...rows.slice(1), rows[0]], 1000).key).not.toBe(key);
  });

  test("says when its cells are blank, hold an error, or text that is no trace", () => {
    expect(() => traceFromArgument([["", 0, null]], undefined)).toThrow("the cell is blank");
    expect(() => traceFromArgument([[{ code: "#REF!" }]], undefined)).toThrow("a cell used here holds #REF!");
    expect(() => traceFromArgument([[700], [{ code: "#N/A" }], [701], [702], [703]], 1000)).toThrow("a cell used here holds #N/A");
    expect(() => traceFromArgument([["hello"]], undefined).make()).toThrow(/LEAPF1/);
  });

  test("tells in the findings what was left out of a range of numbers", () => {
    const force = syntheticTrial({ test: "CMJ", plates: "total" }).trace.plates[0].force;
    const rows = [...Array.from(force, (value) => [value]), ...Array.from({ length: 40 }, () => [0])];
    const { findings } = analyse(rows, "CMJ", undefined, undefined, 1000);
    expect(findings.at(-1)).toMatchObject({ rule: "cells", action: "note", message: expect.stringContaining("40 rows of zeros") as string });
  });
});

describe("the settings argument", () => {
  test("is the defaults when left out or blank, and complete otherwise", () => {
    for (const blank of [undefined, [[0, 0]], [["", ""]], [[null, null]]]) expect(settingsFromArgument(blank)).toBe(DEFAULT_SETTINGS);
    const whole = [["setting", "value"], ...SETTINGS.map(({ id, default: value }) => [id, value])];
    expect(settingsFromArgument(whole).digest).toBe(DEFAULT_SETTINGS.digest);
    expect(settingsFromArgument([["gravity", 9.81]]).values.gravity).toBe(9.81);
  });

  test("follows a changed cell, and is read once while it stays the same", () => {
    const rows = [["gravity", 9.81]];
    const first = settingsFromArgument(rows);
    expect(settingsFromArgument([["gravity", 9.81]])).toBe(first);
    rows[0][1] = 9.82;
    expect(settingsFromArgument(rows).values.gravity).toBe(9.82);
  });

  test("refuses an unknown name, a blank cell that arrives as 0, and an error", () => {
    expect(() => settingsFromArgument([["gravitty", 9.81]])).toThrow(/gravit/);
    expect(() => settingsFromArgument([["gravity", 0]])).toThrow(/gravity/);
    expect(() => settingsFromArgument([["gravity", { code: "#VALUE!" }]])).toThrow("a cell used here holds #VALUE!");
  });
});
