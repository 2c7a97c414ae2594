import { describe, expect, test } from "vitest";
import { CellError, FUNCTIONS } from "../../functions/index.ts";
import { METRICS } from "../../src/catalogue/metrics.ts";
import { syntheticTrial } from "../../src/synthetic/syntheticTrial.ts";
import { packTrace } from "../../src/trace/packTrace.ts";

const call = (id: string, ...args: unknown[]): unknown => (FUNCTIONS.get(id) as (...args: unknown[]) => unknown)(...args);
const made = syntheticTrial({ test: "CMJ", seed: 5, height: 0.33, mass: 68, leftShare: 0.52, faults: { noise: 0.8, sway: 2 } });
const trace = [[...packTrace(made.trace), "", "", ""].slice(0, 4)];

describe("METRIC", () => {
  test("gives a row for a row of names, a column for a column, each cell its own error", () => {
    const names = ["jumpHeight", "", "rsi", "nonsense", "verdict"];
    const [row] = call("METRIC", trace, "CMJ", [names]) as unknown[][];
    const column = call("METRIC", trace, "CMJ", names.map((name) => [name])) as unknown[][];
    expect(column.map(([value]) => value)).toEqual(row);
    expect(row[0]).toBeCloseTo(0.33, 2);
    expect(row[1]).toBe("");
    expect(row[2]).toMatchObject({ code: "#N/A" });
    expect(row[3]).toMatchObject({ code: "#VALUE!" });
    expect(["keep", "look", "leave out"]).toContain(row[4]);
  });

  test("takes units, forms and uncertainties in the name", () => {
    const [[metres, centimetres, u, uCentimetres, left, relative, net, asymmetry]] = call("METRIC", trace, "CMJ", [
      ["jumpHeight", "jump height cm", "jumpHeight u", "jumpHeight cm u", "peakForcePropulsionLeft", "peakForceRelative", "peakForceNet", "meanForcePropulsionAsymmetry"],
    ]) as number[][];
    expect(centimetres).toBeCloseTo(100 * metres, 10);
    expect(u).toBeGreaterThan(0);
    expect(uCentimetres).toBeCloseTo(100 * u, 10);
    expect(left).toBeGreaterThan(500);
    const [[peak, weight, mass]] = call("METRIC", trace, "CMJ", [["peakForce", "bodyWeight", "bodyMass"]]) as number[][];
    expect(relative).toBeCloseTo(peak / mass, 10);
    expect(net).toBeCloseTo(peak - weight, 10);
    // Left share 0.52: 100 (0.52 - 0.48), by hand.
    expect(asymmetry).toBeCloseTo(4, 1);
  });

  test("gives a blank for blank names without looking at the trace", () => {
    expect(call("METRIC", [["damaged"]], "CMJ", [["", 0, null, " "]])).toEqual([["", "", "", ""]]);
  });

  test("puts the error of a damaged trace into every named cell", () => {
    const [[first, blank, second]] = call("METRIC", [[`${trace[0][0].slice(0, -2)}AA`]], "CMJ", [["jumpHeight", "", "verdict"]]) as unknown[][];
    expect(first).toMatchObject({ code: "#VALUE!" });
    expect(blank).toBe("");
    expect((second as CellError).message).toBe((first as CellError).message);
  });

  test("agrees between packed cells and the numbers themselves", () => {
    const { plates, rate } = made.trace;
    const rows = Array.from(plates[0].force, (left, i) => [i / rate, left, plates[1].force[i]]);
    const packed = (call("METRIC", trace, "CMJ", [["jumpHeight"]]) as number[][])[0][0];
    const plain = (call("METRIC", [["time s", "left N", "right N"], ...rows], "CMJ", [["jumpHeight"]]) as number[][])[0][0];
    // Packing may move a height by 0.05 mm at most.
    expect(Math.abs(packed - plain)).toBeLessThan(5e-5);
  });
});

describe("tables of one trial", () => {
  test("ANALYSE lists metrics of the catalogue with units and uncertainties, and what is missing with its reason", () => {
    const [head, ...rows] = call("ANALYSE", trace, "CMJ", null, null, null) as unknown[][];
    expect(head).toEqual(["metric", "value", "unit", "±"]);
    const ids = rows.map(([id]) => id as string);
    expect(new Set(ids).size).toBe(ids.length);
    const known = new Set(METRICS.map(({ id }) => id));
    for (const id of ids) expect(known.has(id) || known.has(id.replace(/(Left|Right)$/, "")), id).toBe(true);
    const cut = call("ANALYSE", [packTrace(syntheticTrial({ test: "CMJ", faults: { cutEnd: 2.9 } }).trace)], "CMJ") as unknown[][];
    expect(cut.find(([id]) => id === "peakLandingForce")?.[1]).toMatchObject({ code: "#N/A" });
  });

  test("ANALYSE and METRIC agree on every value", () => {
    const rows = (call("ANALYSE", trace, "CMJ") as unknown[][]).slice(1).filter(([, value]) => typeof value === "number");
    const [values] = call("METRIC", trace, "CMJ", [rows.map(([id]) => id)]) as unknown[][];
    expect(values).toEqual(rows.map(([, value]) => value));
  });

  test("EVENTS come in order of time, with the time in the recording", () => {
    const rows = (call("EVENTS", trace, "CMJ") as [string, number, number, boolean][]).slice(1);
    const times = rows.map(([, time]) => time);
    expect(times).toEqual([...times].sort((a, b) => a - b));
    expect(rows.map(([name]) => name)).toEqual(expect.arrayContaining(["onset", "lowest", "takeoff", "landing"]));
  });

  test("a moved event is said to be moved and moves what depends on it", () => {
    const moved = call("EVENTS", trace, "CMJ", null, "onset=1.6") as unknown[][];
    expect(moved.find(([name]) => name === "onset")).toEqual(["onset", 1.6, 1.6, true]);
    const [[before]] = call("METRIC", trace, "CMJ", [["timeToTakeoff"]]) as number[][];
    const [[after]] = call("METRIC", trace, "CMJ", [["timeToTakeoff"]], null, "onset=1.6") as number[][];
    expect(after).toBeGreaterThan(before);
  });

  test("STEPS end with the metric and name each result before it is used", () => {
    for (const metric of ["jumpHeight", "rsiModified", "peakForceLeft", "countermovementStiffness"]) {
      const rows = (call("STEPS", trace, "CMJ", metric) as unknown[][]).slice(1);
      expect(rows.at(-1)?.[0]).toBe(metric);
      const [[value]] = call("METRIC", trace, "CMJ", [[metric]]) as number[][];
      expect(rows.at(-1)?.[3]).toBe(value);
      expect(rows.every((row) => typeof row[1] === "string" && row[1] !== "")).toBe(true);
    }
  });

  test("TIME_SERIES keeps every n-th sample of the same columns", () => {
    const all = call("TIME_SERIES", trace, "CMJ", null, null, null, 1) as unknown[][];
    const some = call("TIME_SERIES", trace, "CMJ") as unknown[][];
    expect(all.length - 1).toBe(made.trace.plates[0].force.length);
    expect(some.slice(1)).toEqual(all.slice(1).filter((_, i) => i % 10 === 0));
  });
});

describe("SELF_CHECK", () => {
  test("passes every published value here", () => {
    const [head, ...rows] = call("SELF_CHECK") as unknown[][];
    expect(head).toEqual(["check", "expected", "got", "pass", "source"]);
    expect(rows.length).toBeGreaterThan(20);
    for (const [name, expected, got, pass] of rows) expect(pass, `${String(name)}: ${String(got)} against ${String(expected)}`).toBe(true);
  });
});

describe("SYNTHETIC", () => {
  test("gives equal cells for equal arguments, and other noise for another seed", () => {
    const cells = (seed: number) => call("SYNTHETIC", "CMJ", seed, 0.35, 70, null, 1);
    expect(cells(3)).toEqual(cells(3));
    expect(cells(3)).not.toEqual(cells(4));
  });

  test("reaches the height, mass and share it was asked for", () => {
    const [[height, mass, share]] = call("METRIC", call("SYNTHETIC", "SJ arms=hips", 1, 0.28, 66, 0.55), "SJ arms=hips", [["jumpHeight", "bodyMass", "meanForcePropulsionAsymmetry"]]) as number[][];
    expect(height).toBeCloseTo(0.28, 2);
    expect(mass).toBeCloseTo(66, 1);
    // 100 (0.55 - 0.45), by hand.
    expect(share).toBeCloseTo(10, 0);
  });
});
