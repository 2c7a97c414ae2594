import { expect, test } from "vitest";
import { findTrials } from "../../../src/events/findTrials.ts";
import { analyse } from "../../../src/protocols/analyse.ts";
import type { Analysis } from "../../../src/protocols/Analysis.ts";
import { parseAdjust } from "../../../src/protocols/parseAdjust.ts";
import { parseProtocol } from "../../../src/protocols/parseProtocol.ts";
import type { ImportRecipe } from "../../../src/read/ImportRecipe.ts";
import { readRecording } from "../../../src/read/readRecording.ts";
import { settingsFrom } from "../../../src/settings/settingsFrom.ts";
import { sliceTrace } from "../../../src/trace/sliceTrace.ts";
import { dataBytes, describeWithData } from "../../support/data.ts";

interface Row {
  readonly file: string;
  readonly protocol: string;
  readonly recipe?: ImportRecipe;
  readonly adjust?: string;
  /** Threshold of the table where it is not 20 N. */
  readonly threshold?: number;
  /** Flight times of the table, s. */
  readonly flights: readonly number[];
  /** Body weights and heights by impulse of the table, where a quiet stand allows them, N and m. */
  readonly weight?: number;
  readonly height?: number;
}

// Flight times, body weights and heights: the table in the README of the data folder, from an independent script with g = 9.81.
const TABLE: readonly Row[] = [
  { file: "bmc_teaching/GRFZjump.txt", protocol: "CMJ", recipe: { rate: 600 }, flights: [0.425] },
  { file: "bmc_teaching/jump1.txt", protocol: "CMJ", flights: [0.551], weight: 693, height: 0.362 },
  { file: "msk_cmj_sj/CSV-Test_p1_cmj1.csv", protocol: "CMJ", threshold: 40, flights: [0.23], weight: 654, height: 0.066 },
  { file: "msk_cmj_sj/CSV-Test_p1_cmj2.csv", protocol: "CMJ", threshold: 40, flights: [0.349], weight: 655, height: 0.161 },
  { file: "msk_cmj_sj/CSV-Test_p1_cmj3.csv", protocol: "CMJ", threshold: 40, flights: [0.373], weight: 656, height: 0.17 },
  { file: "msk_cmj_sj/SJ2_grf.mot", protocol: "SJ", flights: [0.542], weight: 774, height: 0.33 },
  // Squats that were not held still: weights and velocities are not to be had (removed, or flagged as implausible below).
  { file: "sj_dual/BFR003_squat_jump.csv", protocol: "SJ", flights: [0.29, 0.309, 0.304] },
  { file: "sj_dual/BFR007_squat_jump.csv", protocol: "SJ", flights: [0.278, 0.324, 0.313] },
  { file: "dj_mot/subj4_DJ1_grf.mot", protocol: "DJ", adjust: "bodyWeight=589", flights: [0.4] },
  { file: "dj_mot/subj5_DJ1_forces.mot", protocol: "DJ", adjust: "bodyWeight=779", flights: [0.505] },
];

function analyses(row: Row): readonly Analysis[] {
  const trace = readRecording(dataBytes(`real/${row.file}`), row.file.split("/").at(-1)!, row.recipe).trace();
  const protocol = parseProtocol(row.protocol);
  const settings = settingsFrom([["gravity", 9.81], ["take-off-threshold", row.threshold ?? 20]]);
  return findTrials(trace, protocol.test).map(({ start, end }) => analyse(sliceTrace(trace, start, end), protocol, settings, parseAdjust(row.adjust ?? "")));
}

const value = (analysis: Analysis, id: string): number => analysis.metrics.get(id)?.value ?? NaN;

describeWithData("real recordings, read and analysed without editing the file", () => {
  test.each(TABLE)("$file: every jump is found, with the flight time of the table within 6 ms", (row) => {
    const found = analyses(row);
    expect(found).toHaveLength(row.flights.length);
    for (const [i, analysis] of found.entries()) {
      // 10 ms at 100 Hz is one sample.
      const tolerance = analysis.trace.rate < 200 ? 0.01 : 0.006;
      expect(Math.abs(value(analysis, "flightTime") - row.flights[i]), `jump ${i + 1}: ${value(analysis, "flightTime")}`).toBeLessThanOrEqual(tolerance);
    }
  });

  test.each(TABLE.filter((row) => row.weight !== undefined))("$file: body weight and height by impulse agree with the table", (row) => {
    const [analysis] = analyses(row);
    expect(Math.abs(value(analysis, "bodyWeight") - row.weight!)).toBeLessThan(3);
    // Another weighing window and onset: 2 N of body weight alone move the height by 8 mm.
    expect(Math.abs(value(analysis, "jumpHeightTakeoffVelocity") - row.height!)).toBeLessThan(0.012);
  });

  test("the flight-time height of the course text, 0.213 m, comes from its own instants", () => {
    const [analysis] = analyses(TABLE[0]);
    // The text takes 0.907 to 1.323 s (0.416 s); at 20 N the flight is 0.425 s, that is 0.221 m.
    expect(9.81 * (1.323 - 0.907) ** 2 / 8).toBeCloseTo(0.212, 3);
    expect(value(analysis, "jumpHeightFlightTime")).toBeCloseTo(0.221, 2);
    // Already moving when the record begins: no body weight, and a sentence for what needs one.
    expect(analysis.metrics.has("jumpHeightTakeoffVelocity")).toBe(false);
    expect(analysis.missing.get("jumpHeightTakeoffVelocity")).toMatch(/\w+ \w+/);
  });

  test("a squat that was not held still gives no velocity, or says that its height is implausible", () => {
    for (const row of TABLE.filter(({ file }) => file.startsWith("sj_dual"))) {
      for (const analysis of analyses(row)) {
        expect(analysis.verdict).not.toBe("keep");
        if (analysis.metrics.has("jumpHeightTakeoffVelocity")) expect(analysis.findings.map(({ rule }) => rule)).toContain("Q9");
      }
    }
  });

  test("drop jumps whose record ends in the landing give times, and say what is missing", () => {
    const contacts: Readonly<Record<string, number>> = { "dj_mot/subj4_DJ1_grf.mot": 0.75, "dj_mot/subj5_DJ1_forces.mot": 0.768 };
    for (const [file, contact] of Object.entries(contacts)) {
      const [analysis] = analyses(TABLE.find((row) => row.file === file)!);
      expect(Math.abs(value(analysis, "contactTime") - contact)).toBeLessThan(0.01);
      expect(analysis.findings.map(({ rule }) => rule)).toContain("recordEndsEarly");
      expect(analysis.metrics.has("timeToStabilisation")).toBe(false);
    }
  });

  test("plates that were zeroed upstream are told, and neither zero nor drift is made up for them", () => {
    for (const row of TABLE.filter(({ file }) => file.startsWith("msk") || file.startsWith("sj_dual"))) {
      for (const analysis of analyses(row)) {
        for (const rule of ["Q3", "Q4"]) expect(analysis.findings.find((finding) => finding.rule === rule)?.action, rule).toBe("not checked");
      }
    }
  });
});
