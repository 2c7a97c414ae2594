import { expect, test } from "vitest";
import { readRecording } from "../../../src/read/readRecording.ts";
import type { ImportRecipe } from "../../../src/read/ImportRecipe.ts";
import { packTrace } from "../../../src/trace/packTrace.ts";
import { unpackTrace } from "../../../src/trace/unpackTrace.ts";
import type { Trace } from "../../../src/trace/Trace.ts";
import { dataBytes, describeWithData } from "../../support/data.ts";

function read(path: string, recipe?: ImportRecipe) {
  return readRecording(dataBytes(path), path.split("/").at(-1)!, recipe);
}

function sumOf(trace: Trace): Float64Array {
  return trace.plates[0].force.map((_, i) => trace.plates.reduce((sum, plate) => sum + plate.force[i], 0));
}

/** Times in the air longer than 0.15 s and shorter than 1 s, s: the total below a threshold. */
function flights(trace: Trace, threshold: number): number[] {
  const sum = sumOf(trace);
  const found: number[] = [];
  let start = -1;
  for (let i = 0; i <= sum.length; i++) {
    if (i < sum.length && sum[i] < threshold) start = start < 0 ? i : start;
    else if (start >= 0) {
      const time = (i - start) / trace.rate;
      if (time > 0.15 && time < 1 && i < sum.length) found.push(time);
      start = -1;
    }
  }
  return found;
}

/** Mean of the quietest fifth of a second in which somebody stands, N. */
function standing(trace: Trace): number {
  const sum = sumOf(trace);
  const n = Math.round(trace.rate / 5);
  let best = Infinity;
  let mean = NaN;
  for (let from = 0; from + n <= sum.length; from += n >> 2) {
    const window = sum.subarray(from, from + n);
    const m = window.reduce((a, b) => a + b, 0) / n;
    const sd = Math.sqrt(window.reduce((a, b) => a + (b - m) ** 2, 0) / n);
    if (m > 300 && sd < best) [best, mean] = [sd, m];
  }
  return mean;
}

// Flight times and body weights: the table of the data folder's README, from an independent script (flight = total
// below 20 N, 40 N for the one plate that was cut at 25 N before export).
const TABLE = [
  { file: "real/bmc_teaching/GRFZjump.txt", rate: 600, roles: ["total"], flights: [0.425], weight: 627, recipe: { rate: 600 } },
  { file: "real/bmc_teaching/jump1.txt", rate: 450, roles: ["total"], flights: [0.551], weight: 693 },
  { file: "real/msk_cmj_sj/CSV-Test_p1_cmj1.csv", rate: 1000, roles: ["total"], flights: [0.23], weight: 654, threshold: 40 },
  { file: "real/msk_cmj_sj/CSV-Test_p1_cmj2.csv", rate: 1000, roles: ["total"], flights: [0.349], weight: 655, threshold: 40 },
  { file: "real/msk_cmj_sj/CSV-Test_p1_cmj3.csv", rate: 1000, roles: ["total"], flights: [0.373], weight: 656, threshold: 40 },
  { file: "real/msk_cmj_sj/SJ2_grf.mot", rate: 2000, roles: ["left", "right"], flights: [0.542], weight: 774 },
  { file: "real/sj_dual/BFR003_squat_jump.csv", rate: 1000, roles: ["left", "right"], flights: [0.29, 0.309, 0.304] },
  { file: "real/sj_dual/BFR007_squat_jump.csv", rate: 1000, roles: ["left", "right"], flights: [0.278, 0.324, 0.313] },
  { file: "real/dj_mot/subj4_DJ1_grf.mot", rate: 100, roles: ["left", "right"], flights: [0.4] },
  { file: "real/dj_mot/subj5_DJ1_forces.mot", rate: 2000, roles: ["left", "right"], flights: [0.505] },
  { file: "real/dj_mot/subj4_static1_grf.mot", rate: 100, roles: ["left", "right"], flights: [], weight: 589 },
] as const;

describeWithData("real recordings are read without editing the file", () => {
  test.each(TABLE)("$file: rate, plates, flights and body weight are those of the table", (row) => {
    const trace = read(row.file, "recipe" in row ? row.recipe : undefined).trace();
    expect(trace.rate).toBe(row.rate);
    expect(trace.plates.map((plate) => plate.role)).toEqual(row.roles);
    const found = flights(trace, "threshold" in row ? row.threshold : 20);
    // jump1 holds a stumble onto the plate besides the jump; the longest that is not at an end of the record is meant.
    const compared = found.length > row.flights.length ? found.slice(0, row.flights.length) : found;
    expect(compared).toHaveLength(row.flights.length);
    compared.forEach((time, i) => expect(Math.abs(time - row.flights[i])).toBeLessThanOrEqual(0.006));
    if ("weight" in row) expect(Math.abs(standing(trace) - row.weight)).toBeLessThan(0.01 * row.weight);
  });

  test("the course text of one recording prints take-off at 0.907 s and landing at 1.323 s", () => {
    const sum = sumOf(read("real/bmc_teaching/GRFZjump.txt", { rate: 600 }).trace());
    const takeoff = sum.findIndex((force) => force < 20) / 600;
    const landing = (600 * takeoff + sum.subarray(Math.round(600 * takeoff)).findIndex((force) => force >= 20)) / 600;
    expect(Math.abs(takeoff - 0.907)).toBeLessThan(0.005);
    // The course text takes the landing a little earlier than the 20 N threshold does.
    expect(Math.abs(landing - 1.323)).toBeLessThan(0.01);
  });

  test("of two columns that look like time, the one that rises evenly is taken, and said", () => {
    const { guesses } = read("real/msk_cmj_sj/CSV-Test_p1_cmj1.csv");
    expect(guesses.time).toMatchObject({ value: 4, why: "“Time” and “SubTime” look like times; “SubTime” rises evenly", alternatives: [3] });
  });

  test("a force that is negative under load is turned, plates without load are left out, and both are said", () => {
    const recording = read("real/msk_cmj_sj/CSV-Test_p1_cmj2.csv");
    expect(recording.guesses.invert.value).toBe(true);
    expect(recording.guesses.unit).toMatchObject({ value: "N", sure: true });
    expect(recording.guesses.rate).toMatchObject({ value: 1000, why: "line 2 of the head says “1000”" });
    expect(recording.warnings.join("\n")).toMatch(/carry no load and were left out[\s\S]*negative under load/);
  });

  test("one recipe reads three files of which one has two columns more", () => {
    const { recipe } = read("real/msk_cmj_sj/CSV-Test_p1_cmj3.csv");
    const trace = read("real/msk_cmj_sj/CSV-Test_p1_cmj1.csv", { forces: recipe.forces, rate: recipe.rate, invert: recipe.invert }).trace();
    expect(flights(trace, 40)[0]).toBeCloseTo(0.23, 2);
  });

  test("sides are told by name where the file names them, and asked where it does not", () => {
    expect(read("real/dj_mot/subj5_DJ1_forces.mot").guesses.forces).toMatchObject({
      sure: true,
      value: [
        { column: 12, role: "left" },
        { column: 3, role: "right" },
      ],
    });
    expect(read("real/sj_dual/BFR003_squat_jump.csv").guesses.forces.sure).toBe(false);
  });

  test("a recording without a rate asks for it", () => {
    const recording = read("real/bmc_teaching/GRFZjump_m.txt");
    expect(recording.guesses.rate.value).toBeUndefined();
    expect(() => recording.trace()).toThrow(expect.objectContaining({ code: "not-available" }));
    expect(read("real/bmc_teaching/GRFZjump_m.txt", { rate: 1000 }).trace().plates[0].force).toHaveLength(2490);
  });

  test("every recording packs, cut to eight seconds, into at most four cells and comes back within its step", () => {
    for (const row of TABLE) {
      const whole = read(row.file, "recipe" in row ? row.recipe : undefined).trace();
      const trace = { ...whole, plates: whole.plates.map(({ role, force }) => ({ role, force: force.slice(0, 8 * whole.rate) })) };
      const cells = packTrace(trace);
      const back = unpackTrace(cells);
      if (!("plates" in back)) throw new Error("expected a trace");
      back.plates.forEach((plate, p) => {
        let largest = 0;
        plate.force.forEach((value, i) => (largest = Math.max(largest, Math.abs(value - trace.plates[p].force[i]))));
        expect(largest).toBeLessThanOrEqual(back.rounding / 2 + 1e-9);
      });
    }
  });
});

describeWithData("synthetic vectors are read exactly", () => {
  test.each(["V01", "V02", "V03", "V04", "V05", "V06", "V07", "V08", "V09", "V10", "V11", "V12"])("%s: every number is what Number makes of its text", (name) => {
    const bytes = dataBytes(`vectors/${name}.csv`);
    const trace = readRecording(bytes, `${name}.csv`).trace();
    const lines = new TextDecoder().decode(bytes).trim().split("\n").slice(1);
    const order = name === "V10" ? [2, 1] : [1, 2];
    expect(trace.plates.map((plate) => plate.role)).toEqual(name === "V10" ? ["total", "box"] : ["left", "right"]);
    expect(trace.rate).toBe(name === "V06" ? 500 : 1000);
    const expected = order.map((column) => Float64Array.from(lines, (line) => Number(line.split(",")[column])));
    trace.plates.forEach((plate, i) => expect(plate.force).toEqual(expected[i]));
  });
});
