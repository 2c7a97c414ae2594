import fc from "fast-check";
import { expect, test } from "vitest";
import { readRecording } from "../../../src/read/readRecording.ts";
import { jumpLike } from "../trace/traces.ts";

/** Ways to write one and the same recording: what a laboratory, a student and three programs might make of it. */
interface Layout {
  readonly delimiter: "," | ";" | "\t" | "|" | "  ";
  readonly decimalComma: boolean;
  readonly eol: "\n" | "\r\n";
  readonly mark: boolean;
  readonly prose: number;
  readonly unitsRow: boolean;
  readonly timeUnit: "s" | "ms";
  readonly forceUnit: "N" | "kN";
  readonly negative: boolean;
  readonly rightFirst: boolean;
  readonly counter: boolean;
  readonly unusedPlate: boolean;
  readonly directions: boolean;
  readonly trailing: boolean;
  readonly rate: number;
  readonly seed: number;
}

const layouts: fc.Arbitrary<Layout> = fc.record({
  delimiter: fc.constantFrom(",", ";", "\t", "|", "  "),
  decimalComma: fc.boolean(),
  eol: fc.constantFrom("\n", "\r\n"),
  mark: fc.boolean(),
  prose: fc.integer({ min: 0, max: 5 }),
  unitsRow: fc.boolean(),
  timeUnit: fc.constantFrom("s", "ms"),
  forceUnit: fc.constantFrom("N", "kN"),
  negative: fc.boolean(),
  rightFirst: fc.boolean(),
  counter: fc.boolean(),
  unusedPlate: fc.boolean(),
  directions: fc.boolean(),
  trailing: fc.boolean(),
  rate: fc.constantFrom(100, 250, 500, 600, 1000, 1200),
  seed: fc.integer({ min: 1, max: 50 }),
});

function write(layout: Layout): { bytes: Uint8Array; left: Float64Array; right: Float64Array } {
  const trace = jumpLike(2.4, 1.5, layout.seed, layout.rate);
  const scale = layout.forceUnit === "kN" ? 1e-3 : 1;
  const digits = layout.forceUnit === "kN" ? 5 : 2;
  const rounded = trace.plates.map(({ force }) => force.map((value) => Number((value * scale).toFixed(digits)) / scale));
  const sides = layout.rightFirst ? ["right", "left"] : ["left", "right"];
  const columns: { name: string; unit: string; value: (i: number) => string }[] = [];
  if (layout.counter) columns.push({ name: "Frame", unit: "", value: (i) => String(i + 1) });
  columns.push({ name: "Time", unit: layout.timeUnit, value: (i) => (layout.timeUnit === "s" ? (i / layout.rate).toFixed(4) : ((1000 * i) / layout.rate).toFixed(2)) });
  for (const side of sides) {
    const force = rounded[side === "left" ? 0 : 1];
    const sign = layout.negative ? -scale : scale;
    if (layout.directions) {
      columns.push({ name: `${side}_Fx`, unit: layout.forceUnit, value: (i) => (scale * (12 + 3 * Math.sin(i / 40))).toFixed(digits) });
      columns.push({ name: `${side}_Fy`, unit: layout.forceUnit, value: (i) => (scale * -7 * Math.cos(i / 30)).toFixed(digits) });
    }
    columns.push({ name: layout.directions ? `${side}_Fz` : `${side} force`.replace(" ", layout.delimiter === "  " ? "_" : " "), unit: layout.forceUnit, value: (i) => (sign * force[i]).toFixed(digits) });
  }
  if (layout.unusedPlate) columns.push({ name: "spare_Fz", unit: layout.forceUnit, value: () => (0).toFixed(digits) });

  const comma = layout.decimalComma && layout.delimiter !== ",";
  const row = (cells: string[]) => cells.join(layout.delimiter) + (layout.trailing && layout.delimiter !== "  " ? layout.delimiter : "");
  const head = ["A laboratory that does not exist", "Recorded 2031-02-28", "Athlete: Example 7", "Mass: 71.5", ""].slice(0, layout.prose);
  // Spaces cannot carry an empty unit.
  const unitsRow = layout.unitsRow && !(layout.delimiter === "  " && layout.counter);
  head.push(row(columns.map(({ name, unit }) => (unitsRow || unit === "" ? name : `${name} [${unit}]`.replace(" [", layout.delimiter === "  " ? "[" : " [")))));
  if (unitsRow) head.push(row(columns.map(({ unit }) => unit)));
  const rows = Array.from(rounded[0], (_, i) => row(columns.map(({ value }) => (comma ? value(i).replace(".", ",") : value(i)))));
  const text = [...head, ...rows].join(layout.eol) + layout.eol;
  return { bytes: new TextEncoder().encode((layout.mark ? "\ufeff" : "") + text), left: rounded[0], right: rounded[1] };
}

test("one recording comes out the same however it is laid out", () => {
  fc.assert(
    fc.property(layouts, (layout) => {
      const { bytes, left, right } = write(layout);
      const trace = readRecording(bytes, "layout.csv").trace();
      expect(trace.rate).toBe(layout.rate);
      const roles = trace.plates.map((plate) => plate.role);
      expect([...roles].sort()).toEqual(["left", "right"]);
      for (const { role, force } of trace.plates) {
        const expected = role === "left" ? left : right;
        expect(force.length).toBe(expected.length);
        let largest = 0;
        for (let i = 0; i < force.length; i++) largest = Math.max(largest, Math.abs(force[i] - expected[i]));
        expect(largest).toBeLessThan(1e-9);
      }
    }),
    { numRuns: 400, seed: 12 },
  );
});
