import { describe, expect, test } from "vitest";
import { SETTINGS } from "../../../src/settings/definitions.ts";
import { syntheticTrial } from "../../../src/synthetic/syntheticTrial.ts";
import { packTrace } from "../../../src/trace/packTrace.ts";
import { effectOfSetting } from "../../../taskpane/pane/effectOfSetting.ts";
import type { SettingRow, TrialRow } from "../../../taskpane/workbook/WorkbookModel.ts";

const settings: readonly SettingRow[] = SETTINGS.map(({ id, default: value }) => ({ id, value, isDefault: true }));
/** A countermovement jump; `landingLower` makes the height by flight time higher than that by take-off velocity. */
function trial(athlete: string, date: string, seed: number, height: number, landingLower = 0): TrialRow {
  const { trace } = syntheticTrial({ test: "CMJ", seed, mass: 70, height, landingLower, faults: { noise: 0.5 } });
  return { key: `${seed}@0`, row: seed, athlete, date, protocol: "CMJ arms=hips", test: "CMJ", adjust: "", keep: "", reason: "", file: "", startInFile: 0, rate: 1000, packed: packTrace(trace) };
}

describe("effectOfSetting", () => {
  // Two trials of each person, 4 cm apart: by hand, the typical error is sqrt(2 * (2^2 + 2^2) / 2) = 2.83 cm. Landing 1 cm lower moves the
  // height by flight time by some 0.4 cm, landing 8 cm lower by some 4 cm.
  const scattered = (lower: number): readonly TrialRow[] => [trial("A", "2026-03-01", 1, 0.3, lower), trial("A", "2026-03-01", 2, 0.34, lower), trial("B", "2026-03-01", 3, 0.28, lower), trial("B", "2026-03-01", 4, 0.32, lower)];

  test("does not count what moves by less than the typical error of the trials themselves", async () => {
    expect(await effectOfSetting(scattered(0.01), settings, "height-method", "flight time")).toEqual({ trials: 4, moved: 0, withoutError: 0 });
  });
  test("counts what moves by more", async () => {
    expect((await effectOfSetting(scattered(0.08), settings, "height-method", "flight time")).moved).toBe(4);
  });
  test("takes the standard uncertainty where nobody has two trials in a session, and says for how many", async () => {
    const alone = [trial("A", "2026-03-01", 1, 0.3, 0.03), trial("A", "2026-03-02", 2, 0.34, 0.03), trial("B", "2026-03-01", 3, 0.28, 0.03)];
    // 3 cm lower moves the height by more than a centimetre, several times its standard uncertainty of some millimetres.
    expect(await effectOfSetting(alone, settings, "height-method", "flight time")).toEqual({ trials: 3, moved: 3, withoutError: 3 });
  });
  test("changes nothing for a setting that stays as it is", async () => {
    expect((await effectOfSetting(scattered(0.08), settings, "height-method", "take-off velocity")).moved).toBe(0);
  });
  test("counts a trial that cannot be read neither before nor after as unmoved", async () => {
    const unreadable = { ...trial("A", "2026-03-01", 1, 0.3), packed: ["nothing"] };
    expect(await effectOfSetting([unreadable], settings, "height-method", "flight time")).toEqual({ trials: 1, moved: 0, withoutError: 0 });
  });
});
