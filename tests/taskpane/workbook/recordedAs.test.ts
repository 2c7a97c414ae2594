import { describe, expect, test } from "vitest";
import { recordedTrials } from "../../../taskpane/decide/DecideTrial.ts";
import type { RecordRow } from "../../../taskpane/workbook/record.ts";
import { recordedAs } from "../../../taskpane/workbook/recordedAs.ts";

const HEADS = ["recorded", "athlete", "jumpHeight", "u jumpHeight", "jumpHeight cm", "my note", "contactTime ms"];

describe("recordedAs", () => {
  test("finds a metric under its name first, then in other units, with the factor between them", () => {
    expect(recordedAs("jumpHeight cm", HEADS)).toEqual([{ column: "jumpHeight cm", factor: 1 }, { column: "jumpHeight", factor: 100 }]);
    expect(recordedAs("contactTime", HEADS)).toEqual([{ column: "contactTime ms", factor: 0.001 }]);
  });
  // By hand: 1 in = 2.54 cm.
  test("turns centimetres into inches", () => {
    expect(recordedAs("jumpHeight in", HEADS).map(({ factor }) => factor)).toEqual([expect.closeTo(1 / 0.0254, 9), expect.closeTo(1 / 2.54, 12)]);
  });
  test("finds a name that is no metric under itself only", () => {
    expect(recordedAs("my note", HEADS)).toEqual([{ column: "my note", factor: 1 }]);
    expect(recordedAs("peakForce", HEADS)).toEqual([]);
  });
});

describe("recordedTrials", () => {
  const row = (values: Readonly<Record<string, number>>): RecordRow => ({
    row: 1, recorded: "", athlete: "Ida", date: "2026-03-14", protocol: "CMJ arms=hips", use: "keep", verdict: "keep", key: "a@0", settingsDigest: "", version: "", instrument: "",
    values: new Map(Object.entries(values).map(([name, value]) => [name, { value }])),
  });
  test("gives what was recorded in the unit that is asked for, whatever the head of Results was then", () => {
    const [early, late, none] = recordedTrials([row({ "jumpHeight cm": 30.48 }), row({ "jumpHeight in": 12.5 }), row({ peakForce: 1500 })]);
    expect(early.value("jumpHeight in")).toBeCloseTo(12, 12);
    expect(early.value("jumpHeight")).toBeCloseTo(0.3048, 12);
    expect(early.value("jumpHeight cm")).toBe(30.48);
    expect(late.value("jumpHeight cm")).toBeCloseTo(31.75, 12);
    expect(none.value("jumpHeight cm")).toBeUndefined();
  });
});
