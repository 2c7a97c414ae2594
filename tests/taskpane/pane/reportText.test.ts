import { describe, expect, test } from "vitest";
import { settingsFrom } from "../../../src/settings/settingsFrom.ts";
import { reportOf } from "../../../taskpane/decide/reportOf.ts";
import { squadsOf } from "../../../taskpane/decide/squadsOf.ts";
import { athleteText, lineText, squadText } from "../../../taskpane/pane/decide/reportText.ts";
import { formatDate } from "../../../taskpane/pane/format.ts";
import { SI } from "../../../taskpane/pane/shownUnits.ts";
import { metricName } from "../../../taskpane/pane/texts.ts";
import { trial } from "../decide/trials.ts";

const settings = settingsFrom([]);
const height = (athlete: string, metres: number, protocol: string, use?: "leave out" | "look") => trial(athlete, "2026-03-14", protocol, { jumpHeight: metres, "jumpHeight cm": 100 * metres }, use);
const trials = [height("Ida", 0.3, "CMJ arms=hips"), height("Ida", 0.31, "CMJ arms=hips", "look"), height("Ida", 0.32, "CMJ arms=hips"), height("Ida", 0.28, "SJ arms=hips"), height("Ida", 0.9, "SJ arms=hips", "leave out"), height("Noa", 0.4, "CMJ arms=hips")];
const report = reportOf(trials, [], "Ida", ["jumpHeight cm"], metricName, settings, SI);

describe("athleteText", () => {
  const text = athleteText(report, "Made today.", SI);
  test("says protocol, n and uncertainty of each number", () => {
    // By hand: mean 31 cm, SD 1 cm over the square root of 3; the squat jump is a single trial, and the typical error of another protocol is not its own.
    expect(text).toContain(`${formatDate("2026-03-14")}, Countermovement jump, hands on hips\n- Jump height: 31.00 \u00b1 0.58 cm (3 trials)`);
    expect(text).toContain("- Jump height: 28.0 cm (single trial, \u00b1 not known)");
  });
  test("says that a trial asks for a look, and leaves out what was left out", () => {
    expect(text).toContain("1 trial asks for a look");
    expect(text).not.toMatch(/90(\.0)?/);
  });
  test("ends with what the numbers are not", () => {
    expect(text).toContain("not a diagnosis");
    expect(text).not.toMatch(/injury risk/i);
  });
});

describe("squadText", () => {
  test("states n and the date of each person, and gives no places inside the error", () => {
    const text = squadText(squadsOf(trials, ["jumpHeight cm"], settings), "Squad", "Made today.", SI);
    expect(text).toContain("Jump height, Countermovement jump, hands on hips: n = 2");
    // Typical error within a day 1 cm (Ida's three trials), over one trial: margin 2.77 cm; 31 and 40 are told apart.
    expect(text).toMatch(new RegExp(`- Place 1: Noa: 40\\.0.*${formatDate("2026-03-14")}\n- Place 2: Ida: 31\\.0`));
  });
});

describe("lineText", () => {
  test("gives at most one figure more than the quantity is printed with, and never an uncertainty of zero", () => {
    expect(lineText({ unit: "kg", result: { session: report.sessions[0].session, value: 70.00581, u: 0.000013, n: 3, short: false, doubtful: 0, leftOut: 0, findings: [] } })).toBe("70.006 \u00b1 <0.001 kg (3 trials)");
  });
});
