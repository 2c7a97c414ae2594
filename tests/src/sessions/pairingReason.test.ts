import { describe, expect, test } from "vitest";
import { parseProtocol } from "../../../src/protocols/parseProtocol.ts";
import { pairingReason } from "../../../src/sessions/pairingReason.ts";

const all = (...texts: string[]) => texts.map(parseProtocol);

describe("pairingReason", () => {
  test.each([
    ["eccentricUtilisation", "CMJ arms=hips", "SJ arms=hips"],
    ["prestretchAugmentation", "CMJ load=20", "SJ load=20"],
    ["dynamicStrength", "CMJ arms=hips", "IMTP"],
    ["dynamicStrength", "SJ limb=left", "IMTP limb=left"],
    ["armSwing", "CMJ arms=swing", "CMJ arms=hips"],
  ] as const)("%s lets %s stand beside %s", (kind, one, other) => {
    expect(pairingReason(kind, all(one, other))).toBeUndefined();
  });

  test("a bilateral index needs both limbs and each alone, in this order", () => {
    expect(pairingReason("bilateral", all("CMJ", "CMJ limb=left", "CMJ limb=right"))).toBeUndefined();
    expect(pairingReason("bilateral", all("CMJ", "CMJ limb=right", "CMJ limb=left"))).toMatch(/left/);
    expect(pairingReason("bilateral", all("CMJ", "SJ limb=left", "CMJ limb=right"))).toMatch(/tests differ/);
  });

  test.each([
    ["eccentricUtilisation", "CMJ arms=swing", "SJ arms=hips", /arms/],
    ["eccentricUtilisation", "SJ", "CMJ", /countermovement/],
    ["eccentricUtilisation", "CMJ load=20", "SJ", /loads/],
    ["eccentricUtilisation", "CMJ limb=left", "SJ limb=right", /limbs/],
    ["dynamicStrength", "CMJ load=20", "IMTP", /loads/],
    ["dynamicStrength", "CMJ", "CMJ", /isometric/],
    ["dynamicStrength", "DJ drop=0.30", "IMTP", /countermovement or squat/],
    ["armSwing", "CMJ arms=hips", "CMJ arms=swing", /free arm swing/],
    ["armSwing", "CMJ arms=swing", "SJ arms=hips", /tests differ/],
  ] as const)("%s refuses %s with %s and says why", (kind, one, other, reason) => {
    expect(pairingReason(kind, all(one, other))).toMatch(reason);
  });

  test("says which result is the wrong one", () => {
    expect(pairingReason("eccentricUtilisation", all("CMJ", "CMJ"))).toBe("result 2 must come from a squat jump");
  });

  test("checks nothing without protocols, and asks for all where one is stated", () => {
    expect(pairingReason("eccentricUtilisation", [undefined, undefined])).toBeUndefined();
    expect(pairingReason("eccentricUtilisation", [parseProtocol("CMJ"), undefined])).toMatch(/part/);
  });
});
