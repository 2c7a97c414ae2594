import { readFileSync, readdirSync } from "node:fs";
import { join } from "node:path";
import { writeXlsx } from "hucre/xlsx";
import { describe, expect, test } from "vitest";
import { InputError } from "../../src/errors.ts";
import { patternByExample, readByPattern } from "../../src/read/namePattern.ts";
import { openRecording } from "../../src/read/openRecording.ts";
import { readRecording } from "../../src/read/readRecording.ts";
import { traceFromColumns } from "../../src/read/traceFromColumns.ts";
import { packTrace } from "../../src/trace/packTrace.ts";
import type { Trace } from "../../src/trace/Trace.ts";
import { unpackTrace } from "../../src/trace/unpackTrace.ts";
import { writeC3d } from "../src/read/c3d/writeC3d.ts";
import { jumpLike } from "../src/trace/traces.ts";
import { seededRandom } from "../support/seededRandom.ts";
import { mutate } from "./mutate.ts";
import { storedZip, unzip } from "./storedZip.ts";

/**
 * Damaged and hostile inputs for every reader: each gives a sound trace or a sentence, in less than two seconds, and memory does not
 * grow with their number. `LEAPSHEET_FUZZ=1000000 npx vitest run --project unit tests/fuzz` makes a long run, `LEAPSHEET_FUZZ_SEED` another one.
 */
const INPUTS = Number(process.env.LEAPSHEET_FUZZ ?? 20_000);
const SEED = Number(process.env.LEAPSHEET_FUZZ_SEED ?? 1);
const LIMIT_MS = 2000;
const TIMEOUT = 30_000 + INPUTS * 10;

const CASES = join(import.meta.dirname, "../src/read/cases");
const TEXTS = readdirSync(CASES).flatMap((name) => {
  const file = readdirSync(join(CASES, name)).find((entry) => entry.startsWith("input."))!;
  const bytes = new Uint8Array(readFileSync(join(CASES, name, file)));
  return bytes.length > 0 ? [bytes] : [];
});

/** As long as the texts whose layout is read from some places of them only, with a head and without. */
const LONG_TEXTS = ["time,left,right\n", ""].map((head) => {
  const [force] = jumpLike(1, 1).plates.map((plate) => plate.force);
  const lines = Array.from(force, (f, i) => `${(i / 1000).toFixed(3)},${(0.48 * f).toFixed(3)},${(0.52 * f).toFixed(3)}\n`);
  return new TextEncoder().encode(head + lines.join(""));
});

function c3dInputs(): Uint8Array[] {
  const force = Float64Array.from({ length: 120 }, (_, i) => -Math.abs(700 - 10 * i));
  const zero = new Float64Array(120);
  const corners = [400, 500, 0, 0, 500, 0, 0, 0, 0, 400, 0, 0];
  return (["intel", "dec", "sgi"] as const).flatMap((processor) =>
    [1, 2, 3, 4].map((type) =>
      writeC3d({
        processor,
        real: type % 2 === 0,
        channels: [zero, zero, force, zero, zero, zero, force, zero],
        labels: ["a", "b", "c", "d", "e", "f", "g", "h"],
        perFrame: 4,
        pointRate: 100,
        scale: 0.5,
        offset: 3,
        points: type,
        filler: type,
        zero: [1, 3],
        plates: [{ type, corners, channels: [1, 2, 3, 4, 5, 6, 7, 8].slice(0, type === 3 ? 8 : 6), matrix: Array.from({ length: 36 }, (_, i) => i % 7) }],
      }),
    ),
  );
}

/** Throws where a trace is not sound: nobody may get a wrong kind of number out of a damaged file. */
function checkTrace({ rate, plates }: Trace): void {
  if (!(rate > 0 && rate < Infinity)) throw new Error(`rate ${rate}`);
  if (plates.length < 1 || plates.length > 4) throw new Error(`${plates.length} plates`);
  for (const { force } of plates) {
    if (force.length !== plates[0].force.length) throw new Error("unequal plates");
    for (let i = 0; i < force.length; i++) if (!Number.isFinite(force[i])) throw new Error(`force ${force[i]} at ${i}`);
  }
}

function checkError(error: unknown): void {
  if (!(error instanceof InputError)) throw error;
  if (error.message.length < 10 || error.message.endsWith(".") || error.message.length > 500) throw new Error(`not a sentence: ${error.message}`);
}

interface Tally {
  traces: number;
  sentences: number;
  slowest: number;
}

/** Runs a reader over damaged inputs and counts what it gave. */
async function fuzz(count: number, seed: number, make: (random: () => number) => () => Trace | void | Promise<Trace | void>): Promise<Tally> {
  const random = seededRandom(seed);
  const tally: Tally = { traces: 0, sentences: 0, slowest: 0 };
  for (let n = 0; n < count; n++) {
    const run = make(random);
    // The processor's time, not the clock's: a long run shares its machine.
    const started = process.cpuUsage();
    try {
      const result = run();
      const trace = result instanceof Promise ? await result : result;
      if (trace) checkTrace(trace);
      tally.traces++;
    } catch (error) {
      try {
        checkError(error);
      } catch (fault) {
        throw new Error(`input ${n} of seed ${seed}`, { cause: fault });
      }
      tally.sentences++;
    }
    const { user, system } = process.cpuUsage(started);
    tally.slowest = Math.max(tally.slowest, (user + system) / 1000);
  }
  if (INPUTS > 20_000) console.log(`${expect.getState().currentTestName}: ${count} inputs, ${tally.traces} read, ${tally.sentences} refused, the slowest ${tally.slowest.toFixed(0)} ms`);
  expect(tally.slowest).toBeLessThan(LIMIT_MS);
  expect(tally.traces + tally.sentences).toBe(count);
  // A mutation that never gets through, or never does harm, would test nothing.
  expect(tally.sentences).toBeGreaterThan(0);
  return tally;
}

describe("hostile inputs give a trace or a sentence", () => {
  test("delimited text and motion files", { timeout: TIMEOUT }, async () => {
    for (const bytes of LONG_TEXTS) expect(bytes.length).toBeGreaterThan(2 ** 14);
    const before = process.memoryUsage().rss;
    const tally = await fuzz(Math.ceil(0.5 * INPUTS), SEED, (random) => {
      const texts = random() < 0.1 ? LONG_TEXTS : TEXTS;
      const bytes = mutate(texts[Math.floor(random() * texts.length)], TEXTS, random);
      const recipe = random() < 0.2 ? { rate: 1000 } : {};
      return () => readRecording(bytes, "fuzz.csv", recipe).trace();
    });
    expect(tally.traces).toBeGreaterThan(0);
    expect(process.memoryUsage().rss - before).toBeLessThan(400 * 2 ** 20);
  });

  test("C3D files", { timeout: TIMEOUT }, async () => {
    const corpus = c3dInputs();
    const before = process.memoryUsage().rss;
    const tally = await fuzz(Math.ceil(0.2 * INPUTS), SEED + 1, (random) => {
      const bytes = mutate(corpus[Math.floor(random() * corpus.length)], corpus, random);
      return () => readRecording(bytes, "fuzz.c3d").trace();
    });
    expect(tally.traces).toBeGreaterThan(0);
    expect(process.memoryUsage().rss - before).toBeLessThan(400 * 2 ** 20);
  });

  test("packed traces and records of times", { timeout: TIMEOUT }, async () => {
    const encoder = new TextEncoder();
    const corpus = [jumpLike(0.5, 1), jumpLike(20, 1)].flatMap((trace) => packTrace(trace)).concat("LEAPT1 flight=0.512 contact=0.21 source=mat").map((cell) => encoder.encode(cell));
    await fuzz(Math.ceil(0.15 * INPUTS), SEED + 2, (random) => {
      const cell = String.fromCharCode(...mutate(corpus[Math.floor(random() * corpus.length)], corpus, random));
      const cells = random() < 0.3 ? [cell, String.fromCharCode(...corpus[1].subarray(0, 40_000))] : [cell];
      return () => {
        const result = unpackTrace(cells);
        return "plates" in result ? result : undefined;
      };
    });
  });

  test("ranges of cells", { timeout: TIMEOUT }, async () => {
    const odd = [null, "", 0, -0, 1e308, -1e308, Infinity, NaN, "x", "12.5", true, {}, [], "=1", undefined, "1e400", Symbol.iterator.toString()];
    const tally = await fuzz(Math.ceil(0.1 * INPUTS), SEED + 3, (random) => {
      const width = 1 + Math.floor(random() * 4);
      const rows: unknown[][] = Array.from({ length: Math.floor(random() * 40) }, (_, i) => Array.from({ length: width }, (_x, c) => (width === 3 && c === 0 ? i / 500 : Math.round(random() * 2000))));
      if (random() < 0.3) rows.unshift(["Time (ms)", "Left (kN)", "Right", "box"].slice(0, width));
      for (let k = Math.floor(random() * 4); k > 0 && rows.length > 0; k--) rows[Math.floor(random() * rows.length)][Math.floor(random() * width)] = odd[Math.floor(random() * odd.length)];
      return () => traceFromColumns(rows, random() < 0.7 ? 1000 : undefined).trace;
    });
    expect(tally.traces).toBeGreaterThan(0);
  });

  test("file names and their patterns", { timeout: TIMEOUT }, async () => {
    const encoder = new TextEncoder();
    const corpus = ["{athlete}_{test}_{date:ymd}_{trial}", "anna_CMJ_2031-02-28_3.csv", "a/b/{*}{*}{trial}", "((a+)+)$ _ _ _ {athlete}"].map((text) => encoder.encode(text));
    await fuzz(Math.ceil(0.04 * INPUTS), SEED + 4, (random) => {
      const [pattern, name] = [0, 1].map(() => new TextDecoder().decode(mutate(corpus[Math.floor(random() * corpus.length)], corpus, random)));
      return () => {
        readByPattern(patternByExample(name, { athlete: name.slice(2, 5), trial: name.slice(8, 9) }), name);
        readByPattern(pattern, name);
      };
    });
  });

  test("workbooks: parts changed inside a whole ZIP file, and the file itself", { timeout: TIMEOUT * 2 }, async () => {
    const rows = [["Time (s)", "Force"], ...Array.from({ length: 60 }, (_, i) => [i / 100, i % 17 < 5 ? 0 : 700 + i])];
    const whole = unzip(await writeXlsx({ sheets: [{ name: "A", rows }] }));
    const corpus = [...whole.values()];
    const names = [...whole.keys()];
    const tally = await fuzz(Math.ceil(0.01 * INPUTS), SEED + 5, (random) => {
      const parts = new Map(whole);
      const name = names[Math.floor(random() * names.length)];
      parts.set(name, mutate(whole.get(name)!, corpus, random));
      const file = storedZip(parts);
      const bytes = random() < 0.2 ? mutate(file, corpus, random) : file;
      return async () => (await openRecording(bytes, "fuzz.xlsx")).trace();
    });
    expect(tally.traces).toBeGreaterThan(0);
  });
});
