import { describe, expect, test } from "vitest";
import fc from "fast-check";
import { formatDate, formatTick } from "../../../taskpane/pane/format.ts";
import { protocolWords } from "../../../taskpane/pane/protocolWords.ts";
import { inUnits, shownUnit, SI } from "../../../taskpane/pane/shownUnits.ts";
import { dayName, headOf, plotAxes } from "../../../taskpane/pane/texts.ts";
import type { UnitChoice } from "../../../taskpane/pane/withUnits.ts";

const IMPERIAL: UnitChoice = { m: "in", s: "ms", kg: "lb" };
const choices = fc.record<UnitChoice>({ m: fc.constantFrom("m", "cm", "in"), s: fc.constantFrom("s", "ms"), kg: fc.constantFrom("kg", "lb") });

describe("inUnits", () => {
  // 1 in = 0.0254 m and 1 lb = 0.45359237 kg, exact by definition (international yard and pound, 1959): 0.381 m are 15 in, 90.718474 kg are 200 lb.
  test.each([
    [0.381, "m", "in", 15],
    [0.2125, "s", "ms", 212.5],
    [90.718474, "kg", "lb", 200],
  ])("gives %d %s in %s as %d", (value, unit, shown, expected) => {
    const found = inUnits({ value, unit, u: value / 100 }, IMPERIAL);
    expect(found.unit).toBe(shown);
    expect(found.value).toBeCloseTo(expected, 9);
    expect(found.u).toBeCloseTo(expected / 100, 9);
  });
  test.each(["m/s", "N", "N/kg", "N s", "W", "%", "", "cm", "in", "lb"])("leaves what is in %j as it is", (unit) => {
    expect(inUnits({ value: 2, unit }, IMPERIAL)).toEqual({ value: 2, unit });
  });
  // Law: the choice changes the look of a quantity and not its size.
  test("keeps the share of the uncertainty in the value, and goes back by its factor", () => {
    fc.assert(
      fc.property(choices, fc.constantFrom("m", "s", "kg", "N", "m/s"), fc.double({ min: 0.01, max: 1000, noNaN: true }), (units, unit, value) => {
        const shown = inUnits({ value, unit, u: 0.03 * value }, units);
        expect(shown.u! / shown.value).toBeCloseTo(0.03, 12);
        expect(shown.value / shownUnit(unit, units).factor / value).toBeCloseTo(1, 12);
      }),
    );
  });
});

describe("plotAxes", () => {
  test("names each axis with the unit that is chosen", () => {
    expect(plotAxes(IMPERIAL)).toMatchObject({ time: { label: "Time, ms", factor: 1000 }, force: { label: "Force, N", factor: 1 }, displacement: { label: "Displacement, in", unit: "in" }, power: { label: "Power, W" } });
    expect(Object.values(plotAxes(SI)).map(({ factor }) => factor)).toEqual([1, 1, 1, 1, 1]);
  });
});

describe("headOf", () => {
  test("puts the unit behind the name, as SI prints it", () => {
    expect(headOf("Propulsion impulse", "N s")).toBe("Propulsion impulse, N\u00b7s");
    expect(headOf("Index", "")).toBe("Index");
  });
});

describe("protocolWords", () => {
  // By hand: 0.30 / 0.0254 = 11.811, 20 / 0.45359237 = 44.092.
  test.each<[UnitChoice, string]>([
    [SI, "from 0.30 m, with 20 kg"],
    [{ ...SI, m: "cm" }, "from 30 cm, with 20 kg"],
    [IMPERIAL, "from 11.81 in, with 44.1 lb"],
  ])("states height and load in %j", (units, end) => {
    expect(protocolWords("DJ drop=0.30 arms=hips load=20", units)).toBe(`Drop jump, hands on hips, ${end}`);
  });
});

describe("formatTick", () => {
  test.each([[0, "en", "0"], [0.25, "de", "0,25"], [-1500, "en", "\u22121500"], [0.1 + 0.2, "en", "0.3"], [12500, "en", "12,500"]])("prints %d for %s as %s", (value, locale, text) => {
    expect(formatTick(value, locale)).toBe(text);
  });
});

describe("dayName", () => {
  test("writes a day as it is written here, and says where there is none", () => {
    expect(dayName("2026-03-14")).toBe(formatDate("2026-03-14"));
    expect(dayName("2026-03-14")).not.toBe("2026-03-14");
    expect(dayName("")).toBe("no date");
  });
});
