import { describe, expect, test } from "vitest";
import { packTimes } from "../../../src/trace/packTimes.ts";
import { unpackTrace } from "../../../src/trace/unpackTrace.ts";

describe("packTimes", () => {
  test("writes the words in a fixed order", () => {
    expect(packTimes({ contact: 0.21, flight: 0.512, source: "mat" })).toBe("LEAPT1 flight=0.512 contact=0.21 source=mat");
  });

  test("comes back through unpackTrace", () => {
    const record = { flight: 0.5125, source: "video", framesPerSecond: 240 } as const;
    expect(unpackTrace([packTimes(record), "", ""])).toEqual(record);
  });

  test.each([
    [{ source: "mat" } as const, "wrong-shape"],
    [{ source: "mat", flight: -1 } as const, "out-of-range"],
    [{ source: "mat", contact: Infinity } as const, "not-a-number"],
  ])("refuses %j: %s", (record, code) => {
    expect(() => packTimes(record)).toThrow(expect.objectContaining({ name: "InputError", code }));
  });

  test.each([
    ["LEAPT1 flight=0.5", "not-recognised"],
    ["LEAPT1 flight=0.5 source=guess", "not-recognised"],
    ["LEAPT1 flight=0.5 speed=3 source=mat", "not-recognised"],
    ["LEAPT1 flight=0.5 flight=0.6 source=mat", "not-recognised"],
    ["LEAPT1 flight=abc source=mat", "not-a-number"],
    ["LEAPT1 flight=0 source=mat", "out-of-range"],
    ["LEAPT1 source=mat", "wrong-shape"],
  ])("refuses %j typed by hand: %s", (cell, code) => {
    expect(() => unpackTrace([cell])).toThrow(expect.objectContaining({ name: "InputError", code }));
  });
});
