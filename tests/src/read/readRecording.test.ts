import { readFileSync, readdirSync, existsSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { readRecording } from "../../../src/read/readRecording.ts";
import type { ImportRecipe } from "../../../src/read/ImportRecipe.ts";
import { stepsPerNewton } from "../../../src/trace/forceStep.ts";
import type { Guess } from "../../../src/read/Recording.ts";

/**
 * One folder a case: `input.*`, perhaps `recipe.json`, and `expected.json` or `expected.error.txt` (code, then a part of the message).
 * The numbers in `expected.json` (sums, first and largest values) were taken from the written numbers by a Python script.
 */
const CASES = join(import.meta.dirname, "cases");

interface Expected {
  rate: number;
  plates: { role: string; samples: number; sum: number; first: number; largest: number }[];
  warnings: string[];
  guesses: Record<string, unknown>;
}

function openCase(name: string) {
  const folder = join(CASES, name);
  const file = readdirSync(folder).find((entry) => entry.startsWith("input."))!;
  const recipePath = join(folder, "recipe.json");
  const recipe = existsSync(recipePath) ? (JSON.parse(readFileSync(recipePath, "utf8")) as ImportRecipe) : undefined;
  return { folder, file, recipe, bytes: new Uint8Array(readFileSync(join(folder, file))) };
}

describe("readRecording", () => {
  const names = readdirSync(CASES);

  test.each(names.filter((name) => existsSync(join(CASES, name, "expected.json"))))("reads the case %s", (name) => {
    const { folder, file, recipe, bytes } = openCase(name);
    const expected = JSON.parse(readFileSync(join(folder, "expected.json"), "utf8")) as Expected;
    const recording = readRecording(bytes, file, recipe);
    const trace = recording.trace();
    expect(trace.rate).toBe(expected.rate);
    expect(trace.plates.map((plate) => plate.role)).toEqual(expected.plates.map((plate) => plate.role));
    trace.plates.forEach(({ force }, i) => {
      const plate = expected.plates[i];
      expect(force.length).toBe(plate.samples);
      expect(force.reduce((sum, value) => sum + value, 0)).toBeCloseTo(plate.sum, 4);
      expect(force[0]).toBeCloseTo(plate.first, 9);
      expect(Math.max(...force)).toBeCloseTo(plate.largest, 9);
    });
    expect(recording.warnings).toHaveLength(expected.warnings.length);
    for (const text of expected.warnings) expect(recording.warnings.join("\n")).toContain(text);
    const guesses = recording.guesses as unknown as Record<string, Guess<unknown>>;
    for (const [guess, value] of Object.entries(expected.guesses)) expect([guess, guesses[guess].value]).toEqual([guess, value]);
    for (const guess of Object.values(guesses)) if (guess) expect(guess.why.length).toBeGreaterThan(3);
  });

  test.each(names.filter((name) => existsSync(join(CASES, name, "expected.error.txt"))))("says what is wrong in the case %s", (name) => {
    const { folder, file, recipe, bytes } = openCase(name);
    const [code, part] = readFileSync(join(folder, "expected.error.txt"), "utf8").trim().split("\n");
    expect(() => readRecording(bytes, file, recipe).trace()).toThrow(
      expect.objectContaining({ name: "InputError", code, message: expect.stringContaining(part) }),
    );
  });

  test("gives a recipe that reads the same file the same way, also as JSON", () => {
    for (const name of names.filter((entry) => existsSync(join(CASES, entry, "expected.json")))) {
      const { file, recipe, bytes } = openCase(name);
      const first = readRecording(bytes, file, recipe);
      const again = JSON.parse(JSON.stringify(first.recipe)) as ImportRecipe;
      const second = readRecording(bytes, file, { ...again, rate: again.rate ?? recipe?.rate });
      expect(second.trace(), name).toEqual(first.trace());
    }
  });

  test("keeps what it would throw beside the guesses, so that a person can correct them", () => {
    const { bytes, file } = openCase("error_one_column_without_rate");
    const recording = readRecording(bytes, file);
    expect(recording.problem?.code).toBe("not-available");
    expect(recording.guesses.rate).toMatchObject({ value: undefined, sure: false });
    expect(readRecording(bytes, file, { ...recording.recipe, rate: 500 }).trace().rate).toBe(500);
  });

  test("refuses a file by its size before it reads it", () => {
    const huge = { length: 300 * 2 ** 20 } as Uint8Array;
    expect(() => readRecording(huge, "huge.csv")).toThrow(expect.objectContaining({ code: "too-large" }));
  });

  test("gives columns with names, groups, units and a preview", () => {
    const { bytes, file } = openCase("groups_and_lone_rate");
    const column = readRecording(bytes, file).columns[4];
    expect(column).toMatchObject({ number: 5, name: "Fz", group: "One - Force", unit: "N" });
    expect(Math.min(...column.preview)).toBeLessThan(-1000);
  });
});

describe("what the digits of a column tell is what a look at every value tells", () => {
  const text = (force: (i: number) => string) => new TextEncoder().encode(`time,left,right\n${Array.from({ length: 600 }, (_, i) => `${(i / 1000).toFixed(3)},${force(i)},${(400.5 + (i % 9)).toFixed(2)}`).join("\n")}\n`);

  test.each([
    ["six decimals", (i: number) => (350 + i / 7).toFixed(6)],
    ["two decimals, all of them halves", (i: number) => (350 + i / 2).toFixed(2)],
    ["seven decimals, finer than any grid", (i: number) => (350 + i / 7).toFixed(7)],
    ["nine digits and six decimals together", (i: number) => (i === 9 ? "000001234.500000" : (350 + i / 7).toFixed(6))],
    ["an exponent among them", (i: number) => (i === 9 ? "3.5e2" : (350 + i / 4).toFixed(3))],
  ])("%s", (_what, force) => {
    const { step, plates } = readRecording(text(force), "a.csv").trace();
    const steps = stepsPerNewton(plates);
    expect(step).toBe(steps === 0 ? 0 : 1 / steps);
  });

  test("a force that nobody can exert is refused, with its line", () => {
    expect(() => readRecording(text((i) => (i === 75 ? "10000001.5" : (350 + i / 7).toFixed(1))), "a.csv").trace()).toThrow("line 77, column 2");
  });
});
