import { describe, expect, test } from "vitest";
import { correctedProfile, loadProfile } from "../../../src/trace/loadProfile.ts";
import { correctedForce } from "../../../src/trace/zero.ts";

// 250 Hz: a block of 10 ms holds round(2.5) = 3 samples.
const LEFT = Float64Array.of(1, 2, 3, 9, 5, 6, 7, 8);
const RIGHT = Float64Array.of(10, 20, 70, 40, 50, 60, 70, 10);

describe("loadProfile", () => {
  // By hand: sums 11, 22, 73 | 49, 55, 66 | 77, 18 (no full block).
  test("sums two plates and their full blocks", () => {
    const { force, blockSize, sums, squares } = loadProfile([LEFT, RIGHT], 250);
    expect([...force]).toEqual([11, 22, 73, 49, 55, 66, 77, 18]);
    expect(blockSize).toBe(3);
    expect([...sums]).toEqual([106, 170]);
    expect([...squares]).toEqual([121 + 484 + 5329, 2401 + 3025 + 4356]);
  });

  test("of one plate is that plate itself", () => {
    const { force, sums, squares } = loadProfile([LEFT], 250);
    expect(force).toBe(LEFT);
    expect([...sums]).toEqual([6, 20]);
    expect([...squares]).toEqual([14, 142]);
  });

  test("refuses what is no trace", () => {
    const refused = (plates: readonly Float64Array[], rate = 250) => expect(() => loadProfile(plates, rate));
    refused([]).toThrow(expect.objectContaining({ code: "wrong-shape" }));
    refused([Float64Array.of(1)]).toThrow(expect.objectContaining({ code: "wrong-shape" }));
    refused([LEFT, RIGHT.slice(1)]).toThrow(expect.objectContaining({ code: "wrong-shape" }));
    refused([LEFT, RIGHT, RIGHT]).toThrow(expect.objectContaining({ code: "wrong-shape" }));
    for (const rate of [0, -1, Infinity, NaN]) refused([LEFT], rate).toThrow(expect.objectContaining({ code: "out-of-range" }));
  });

  test.each([0, 4, 7])("refuses a value that is not finite, at sample %i", (at) => {
    for (const bad of [NaN, Infinity, -Infinity]) {
      const force = LEFT.slice();
      force[at] = bad;
      expect(() => loadProfile([force], 250)).toThrow(expect.objectContaining({ code: "not-a-number" }));
      expect(() => loadProfile([RIGHT, force], 250)).toThrow(expect.objectContaining({ code: "not-a-number" }));
    }
  });
});

describe("correctedProfile", () => {
  test("has the blocks that the corrected force has", () => {
    const before = loadProfile([LEFT, RIGHT], 250);
    const force = correctedForce(before.force, 7, 0, 0, 250);
    const { sums, squares } = correctedProfile(before, force, 7, 0, 0);
    const direct = loadProfile([force], 250);
    expect([...sums]).toEqual([...direct.sums]);
    expect([...squares]).toEqual([...direct.squares]);
  });

  test("takes a drift off block by block", () => {
    const plate = Float64Array.from({ length: 300 }, (_, i) => 700 + 4 * (i / 250 - 0.2));
    const before = loadProfile([plate], 250);
    const { sums } = correctedProfile(before, correctedForce(plate, 0, 4, 0.2, 250), 0, 4, 0.2);
    for (const sum of sums) expect(sum).toBeCloseTo(2100, 9);
  });
});
