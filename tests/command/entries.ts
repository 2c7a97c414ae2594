import type { Entry } from "../../command/entry.ts";

/** A made-up entry with a file name that a spreadsheet could take for a formula. */
export const ENTRY: Entry = {
  file: "=cmd,one.csv", trial: 1, test: "CMJ", protocol: "CMJ", start: 0, rate: 1000, verdict: "look", events: { takeoff: 2.5 },
  metrics: { jumpHeight: { value: 0.344, unit: "m", u: 0.003 }, peakForce: { value: 1897.9, unit: "N", u: null } },
  findings: [{ rule: "Q9", action: "look", message: 'legs "bent"' }], settings: { gravity: 9.80665, "height-method": "take-off velocity" }, settingsDigest: "d", version: "0", notes: [],
};
