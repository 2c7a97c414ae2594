import { describe, expect, test } from "vitest";
import { formatProtocol } from "../../../src/protocols/formatProtocol.ts";

describe("formatProtocol", () => {
  test("prints the parts in one order, whatever order they were given in", () => {
    expect(formatProtocol({ load: 20, limb: "both", arms: "hips", dropHeight: 0.3, test: "DJ" })).toBe("DJ drop=0.30 arms=hips limb=both load=20");
  });

  test("prints only what was stated", () => {
    expect(formatProtocol({ test: "RH" })).toBe("RH");
    expect(formatProtocol({ test: "CMJ", load: 20 })).toBe("CMJ load=20");
  });

  test("prints drop heights with two decimals, or as many as they have", () => {
    expect(formatProtocol({ test: "DJ", dropHeight: 1 })).toBe("DJ drop=1.00");
    expect(formatProtocol({ test: "DJ", dropHeight: 0.305 })).toBe("DJ drop=0.305");
  });

  test("refuses what nobody can perform", () => {
    expect(() => formatProtocol({ test: "SJ", dropHeight: 0.3 })).toThrow(expect.objectContaining({ code: "wrong-shape" }));
    expect(() => formatProtocol({ test: "DJ", dropHeight: 30 })).toThrow(expect.objectContaining({ code: "out-of-range" }));
    expect(() => formatProtocol({ test: "CMJ", load: NaN })).toThrow(expect.objectContaining({ code: "out-of-range" }));
  });
});
