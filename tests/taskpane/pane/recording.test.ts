import { describe, expect, test } from "vitest";
import { packTrace } from "../../../src/trace/packTrace.ts";
import { syntheticTrial } from "../../../src/synthetic/syntheticTrial.ts";
import { VERSION } from "../../../src/version.ts";
import { analyseTrial } from "../../../taskpane/pane/analyseTrial.ts";
import { differenceReasons, recordDifferences, recordDraftOf } from "../../../taskpane/pane/recording.ts";
import { record, recordedRows } from "../../../taskpane/workbook/record.ts";
import type { TrialRow } from "../../../taskpane/workbook/WorkbookModel.ts";
import { MemoryHost } from "../../support/memoryHost.ts";

const NAMES = ["verdict", "findings", "jumpHeight cm", "peakForce", "rsi", "no such metric"];
const row: TrialRow = {
  key: "h@0.0000", row: 1, athlete: "Ida Fenn", date: "2026-03-14", protocol: "CMJ", test: "CMJ", adjust: "", keep: "", reason: "", file: "a.csv", startInFile: 0, rate: 1000,
  packed: packTrace(syntheticTrial({ test: "CMJ", seed: 5, mass: 63, height: 0.3 }).trace),
};
const trial = analyseTrial(row, []);

describe("recordDraftOf", () => {
  test("holds the metrics of the head that the trial gives, in the unit of the head", () => {
    const draft = recordDraftOf(trial, NAMES)!;
    expect(draft.metrics.map((metric) => metric.name)).toEqual(["jumpHeight cm", "peakForce"]);
    expect(draft.metrics[0].value).toBeCloseTo(100 * trial.analysis!.metrics.get("jumpHeight")!.value, 10);
    expect(draft).toMatchObject({ key: row.key, use: "keep", verdict: "keep", settingsDigest: trial.analysis!.settings.digest });
  });
  test("is nothing for a trial that cannot be read", () => {
    expect(recordDraftOf(analyseTrial({ ...row, packed: ["LEAPF1 spoilt", "", "", ""] }, []), NAMES)).toBeUndefined();
  });
});

describe("recordDifferences", () => {
  // Round trip: what was recorded and read back is what is live.
  test("finds none in a trial that was not touched since", async () => {
    const host = new MemoryHost();
    await record(host, [recordDraftOf(trial, NAMES)!], new Date("2026-03-14T12:00:00Z"));
    const [recorded] = await recordedRows(host);
    expect(recordDifferences(trial, recorded)).toEqual([]);
    expect(recorded.version).toBe(VERSION);
  });

  test("finds what a moved event changed, and says that the trial was changed", async () => {
    const host = new MemoryHost();
    await record(host, [recordDraftOf(trial, NAMES)!], new Date("2026-03-14T12:00:00Z"));
    const [recorded] = await recordedRows(host);
    const takeoff = trial.analysis!.events.get("takeoff")!.time;
    const moved = analyseTrial({ ...row, adjust: `takeoff=${(takeoff - 0.01).toFixed(4)}` }, []);
    expect(recordDifferences(moved, recorded).map((difference) => difference.name)).toContain("jumpHeight cm");
    expect(differenceReasons(moved, recorded).join()).toContain("trial itself");
  });

  test("names changed settings as the reason", async () => {
    const host = new MemoryHost();
    await record(host, [recordDraftOf(trial, NAMES)!], new Date("2026-03-14T12:00:00Z"));
    const [recorded] = await recordedRows(host);
    const other = analyseTrial(row, [{ id: "height-method", value: "flight time", isDefault: false }]);
    expect(recordDifferences(other, recorded).map((difference) => difference.name)).toEqual(["jumpHeight cm"]);
    expect(differenceReasons(other, recorded).join()).toContain("settings");
  });
});
