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

  // Both ends of what is plausible belong to it; the sentence names the part.
  test.each([
    [{ test: "DJ", dropHeight: 0.05 }, "DJ drop=0.05"],
    [{ test: "DJ", dropHeight: 1.5 }, "DJ drop=1.50"],
    [{ test: "CMJ", load: 0 }, "CMJ load=0"],
    [{ test: "CMJ", load: 500 }, "CMJ load=500"],
    [{ test: "IMTP", limb: "left" }, "IMTP limb=left"],
  ] as const)("prints %j", (protocol, text) => {
    expect(formatProtocol(protocol)).toBe(text);
  });

  test.each([
    [{ test: "DJ", dropHeight: 0.049 }, "a drop height requires 0.05 to 1.5 m, not 0.049"],
    [{ test: "DJ", dropHeight: 1.51 }, "a drop height requires 0.05 to 1.5 m, not 1.51"],
    [{ test: "CMJ", load: -1 }, "a load requires 0 to 500 kg, not -1"],
    [{ test: "CMJ", load: 501 }, "a load requires 0 to 500 kg, not 501"],
    [{ test: "IMTP", load: 1 }, "a load requires a jump, not IMTP"],
    [{ test: "IMTP", arms: "hips" }, "arms require a jump, not IMTP"],
    [{ test: "RH", dropHeight: 0.3 }, "a drop height requires the test DJ, not RH"],
  ] as const)("refuses %j", (protocol, sentence) => {
    expect(() => formatProtocol(protocol)).toThrow(sentence);
  });
});
