import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { packTrace } from "../../../src/trace/packTrace.ts";
import { unpackTrace } from "../../../src/trace/unpackTrace.ts";
import type { Plate, Trace } from "../../../src/trace/Trace.ts";
import { normalFrom, seededRandom } from "../../support/seededRandom.ts";
import { jumpLike } from "./traces.ts";

function unpacked(cells: readonly string[]): Trace {
  const result = unpackTrace(cells);
  if (!("plates" in result)) throw new Error("expected a trace");
  return result;
}

function largestDifference(a: readonly Plate[], b: readonly Plate[]): number {
  let largest = 0;
  a.forEach((plate, p) => plate.force.forEach((value, i) => (largest = Math.max(largest, Math.abs(value - b[p].force[i])))));
  return largest;
}

/** Rounds every force to a grid of `steps` in a newton. */
function onGrid(trace: Trace, steps: number): Trace {
  return { ...trace, plates: trace.plates.map(({ role, force }) => ({ role, force: force.map((f) => Math.round(f * steps) / steps || 0) })) };
}

describe("packTrace", () => {
  test("writes a head a person can read, which begins with a letter", () => {
    const trace: Trace = { rate: 1000, plates: [{ role: "total", force: Float64Array.of(700, 700.5, 701) }], start: 0, step: 0, rounding: 0 };
    const [cell] = packTrace(trace);
    expect(cell).toMatch(/^LEAPF1 rate=1000 plates=total samples=3 step=0\.5 exact crc=[0-9a-f]{8} [A-Za-z0-9+/]+$/);
  });

  // By hand, from the description: 32 bits of the first value in steps (1400), then a 5-bit parameter and the differences
  // 1 and 1, folded to 2 and 2. Parameters 0, 1 and 2 all take six bits; the first is taken: "001" and "001".
  // 000000 000000 000000 000101 011110 00|0000 0|001 00|1 and five zeros to fill: 0 0 0 5 30 0 4 32 = A A A F e A E g.
  test("writes the bits of a hand-made example", () => {
    const trace: Trace = { rate: 1000, plates: [{ role: "total", force: Float64Array.of(700, 700.5, 701) }], start: 0, step: 0, rounding: 0 };
    expect(packTrace(trace)[0].split(" ").at(-1)).toBe("AAAFeAEg");
    expect(unpacked(packTrace(trace)).plates[0].force).toEqual(Float64Array.of(700, 700.5, 701));
  });

  test("gives back every value exactly when the text of the source's own step fits a cell", () => {
    for (const steps of [1, 2, 4, 5, 10, 100, 1000]) {
      const trace = onGrid(jumpLike(5, 1), steps);
      const cells = packTrace(trace);
      const back = unpacked(cells);
      expect(cells).toHaveLength(1);
      expect(back.rounding).toBe(0);
      expect(largestDifference(back.plates, trace.plates)).toBe(0);
    }
  });

  test("is within half a step and says that it rounded when the source has no step that fits", () => {
    const trace = jumpLike(8, 1);
    const back = unpacked(packTrace(trace));
    expect(back.rounding).toBe(back.step);
    expect(largestDifference(back.plates, trace.plates)).toBeLessThanOrEqual(back.step / 2 + 1e-9);
  });

  test("fits 8 s of two plates with 1 N of noise into one cell", () => {
    expect(packTrace(jumpLike(8, 1))).toHaveLength(1);
  });

  test("never rounds a noise-free trace coarser than 0.01 N, and takes more cells instead", () => {
    const trace = jumpLike(60, 0);
    const cells = packTrace({ ...trace, plates: trace.plates.map(({ role, force }) => ({ role, force: force.map((f, i) => f + 0.004 * Math.sin(i * 1.7)) })) });
    expect(cells.length).toBeGreaterThan(1);
    expect(unpacked(cells).step).toBe(0.01);
  });

  test("keeps the step at or below a quarter of the quiet-standing noise", () => {
    for (const noise of [0.5, 1, 2, 4]) {
      const back = unpacked(packTrace(jumpLike(12, noise)));
      expect(back.step).toBeLessThanOrEqual(Math.max(0.01, noise / 4));
    }
  });

  test("packs what it unpacked to the same text", () => {
    for (const [seconds, noise] of [
      [3, 1],
      [12, 2],
      [20, 1],
    ]) {
      const cells = packTrace(jumpLike(seconds, noise));
      expect(packTrace(unpacked(cells))).toEqual(cells);
    }
  });

  test("gives back rate, roles and start time", () => {
    const trace: Trace = { ...jumpLike(1, 1, 3, 600), rate: 600, start: 12.345 };
    const back = unpacked(packTrace(trace));
    expect([back.rate, back.start, back.plates.map((p) => p.role)]).toEqual([600, 12.345, ["left", "right"]]);
  });

  test("refuses what four cells do not hold", () => {
    expect(() => packTrace(jumpLike(200, 1))).toThrow(expect.objectContaining({ name: "InputError", code: "too-large" }));
  });

  test.each([
    ["no plate", [], 1000, "wrong-shape"],
    ["no sample", [[]], 1000, "wrong-shape"],
    ["unequal plates", [[1, 2], [1]], 1000, "wrong-shape"],
    ["a force that is not a number", [[1, NaN]], 1000, "not-a-number"],
    ["an infinite force", [[1, Infinity]], 1000, "not-a-number"],
    ["an absurd force", [[1, 1e9]], 1000, "out-of-range"],
    ["a rate of zero", [[1, 2]], 0, "not-a-number"],
  ] as const)("refuses %s", (_what, plates, rate, code) => {
    const trace: Trace = { rate, plates: plates.map((force) => ({ role: "total", force: Float64Array.from(force) })), start: 0, step: 0, rounding: 0 };
    expect(() => packTrace(trace)).toThrow(expect.objectContaining({ name: "InputError", code }));
  });

  test("comes back within half its step for any forces", () => {
    const force = fc.oneof(fc.double({ min: -9e6, max: 9e6, noNaN: true }), fc.double({ min: -50, max: 4000, noNaN: true }), fc.integer({ min: -3000, max: 3000 }));
    const plates = fc.array(force, { minLength: 1, maxLength: 300 }).chain((left) =>
      fc.array(force, { minLength: left.length, maxLength: left.length }).map((right) => [left, right]),
    );
    fc.assert(
      fc.property(plates, ([left, right]) => {
        const trace: Trace = {
          rate: 1000,
          start: 0,
          step: 0,
          rounding: 0,
          plates: [
            { role: "left", force: Float64Array.from(left) },
            { role: "right", force: Float64Array.from(right) },
          ],
        };
        const back = unpacked(packTrace(trace));
        expect(largestDifference(back.plates, trace.plates)).toBeLessThanOrEqual(back.rounding / 2 + 1e-9);
      }),
      { numRuns: 300, seed: 7 },
    );
  });
});

describe("unpackTrace", () => {
  const short = packTrace(jumpLike(0.3, 1, 5));
  const long = packTrace(jumpLike(20, 1, 5));
  const damage = expect.objectContaining({ name: "InputError", code: expect.stringMatching(/^(damaged|not-recognised|too-large)$/) });

  test("refuses a change of any one character, at every position", () => {
    const [cell] = short;
    let tried = 0;
    for (let i = 0; i < cell.length; i++) {
      for (const letter of ["A", "b", "7", "/", " ", "é"]) {
        if (letter === cell[i]) continue;
        expect(() => unpackTrace([cell.slice(0, i) + letter + cell.slice(i + 1)])).toThrow(damage);
        tried++;
      }
    }
    expect(tried).toBeGreaterThan(5 * cell.length);
  });

  test("refuses 10,000 random damages: letters changed, lost, added, doubled, swapped, cells cut", () => {
    const random = seededRandom(11);
    const letters = "ABCXYZabcxyz0189+/ =.,";
    for (let n = 0; n < 10_000; n++) {
      const cells = [...(n % 10 === 0 ? long : short)];
      const which = Math.floor(random() * cells.length);
      const cell = cells[which];
      const i = Math.floor(random() * cell.length);
      const letter = letters[Math.floor(random() * letters.length)];
      const kind = Math.floor(random() * 6);
      if (kind === 0) cells[which] = cell.slice(0, i) + letter + cell.slice(i + 1);
      else if (kind === 1) cells[which] = cell.slice(0, i) + cell.slice(i + 1);
      else if (kind === 2) cells[which] = cell.slice(0, i) + letter + cell.slice(i);
      else if (kind === 3) cells[which] = cell.slice(0, i) + cell.slice(i, i + 9) + cell.slice(i);
      else if (kind === 4) cells[which] = cell.slice(0, i) + (cell[i + 1] ?? "") + cell[i] + cell.slice(i + 2);
      else cells[which] = cell.slice(0, i);
      if (cells[which] === cell || (kind === 5 && i === 0 && which === cells.length - 1 && cells.length === 1)) continue;
      expect(() => unpackTrace(cells), `damage ${n} of kind ${kind} at ${i}`).toThrow(damage);
    }
  });

  test("reads a trace of several cells, and says which is missing, swapped or foreign", () => {
    expect(long.length).toBeGreaterThan(1);
    expect(unpacked(long).plates[0].force).toHaveLength(20_000);
    expect(unpacked([...long, "", ""].slice(0, 4)).plates[0].force).toHaveLength(20_000);
    expect(() => unpackTrace(long.slice(0, -1))).toThrow(/requires all its cells, and of 2 there are 1/);
    expect(() => unpackTrace([...long].reverse())).toThrow(/in order, and part 2 stands in cell 1/);
    const other = packTrace(jumpLike(20, 1, 6));
    expect(() => unpackTrace([long[0], other[1]])).toThrow(/cells of one trace/);
    expect(() => unpackTrace([long[0], "", long[1]])).toThrow(/cell 2 is not one of them/);
  });

  test("does not believe a head that claims more samples than the text can hold", () => {
    expect(() => unpackTrace(["LEAPF1 rate=1000 plates=total samples=9999999 step=1 exact crc=00000000 AAAA"])).toThrow(damage);
  });

  test.each([[[""]], [[]], [["hello"]], [["=SUM(A1)"]], [["LEAPF2 rate=1"]]])("refuses %j as not a packed trace", (cells) => {
    expect(() => unpackTrace(cells)).toThrow(expect.objectContaining({ code: "not-recognised" }));
  });

  test("refuses random text after the mark without a crash", () => {
    fc.assert(
      fc.property(fc.string({ maxLength: 300 }), (text) => {
        expect(() => unpackTrace([`LEAPF1 ${text}`])).toThrow(damage);
      }),
      { numRuns: 500, seed: 3 },
    );
  });
});

test("a packed trace of white noise takes about log2(noise / step) + 2.5 bits a sample", () => {
  // Entropy of a difference of two normal variables: log2(sd * sqrt(2) * sqrt(2 pi e) / step) = log2(sd / step) + 2.55 (Shannon 1948).
  const normal = normalFrom(seededRandom(2));
  const force = Float64Array.from({ length: 8000 }, () => Math.round((700 + 2 * normal()) * 10) / 10);
  const [cell] = packTrace({ rate: 1000, plates: [{ role: "total", force }], start: 0, step: 0, rounding: 0 });
  const bits = (6 * cell.split(" ").at(-1)!.length) / force.length;
  expect(bits).toBeGreaterThan(Math.log2(2 / 0.1) + 2.55 - 0.05);
  expect(bits).toBeLessThan((Math.log2(2 / 0.1) + 2.55) * 1.05);
});
