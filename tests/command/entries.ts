import type { AnyEntry, Entry } from "../../command/entry.ts";
import type { Format } from "../../command/formats.ts";

/** A made-up entry with a file name that a spreadsheet could take for a formula. */
export const ENTRY: Entry = {
  file: "=cmd,one.csv", trial: 1, test: "CMJ", protocol: "CMJ", start: 0, rate: 1000, verdict: "look", events: new Map([["takeoff", { name: "takeoff", time: 2.5, byHand: false }]]),
  metrics: [{ id: "jumpHeight", value: 0.344, unit: "m", u: 0.003 }, { id: "peakForce", value: 1897.9, unit: "N" }],
  findings: [{ rule: "Q9", action: "look", message: 'legs "bent"' }], settings: { gravity: 9.80665, "height-method": "take-off velocity" }, settingsDigest: "d", version: "0", notes: [],
};

/** A writer that takes entries, by way of their pieces as another thread would send them. */
export function writerOf<Added, Ended>(format: { pieceOf: Format["pieceOf"]; writer(): { add(piece: never): Added; end(): Ended } }): { add(entry: AnyEntry): Added; end(): Ended } {
  const writer = format.writer();
  return { add: (entry) => writer.add(JSON.parse(JSON.stringify(format.pieceOf(entry))) as never), end: () => writer.end() };
}
