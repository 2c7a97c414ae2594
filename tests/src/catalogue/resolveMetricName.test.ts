import { describe, expect, test } from "vitest";
import { METRICS } from "../../../src/catalogue/metrics.ts";
import { resolveMetricName } from "../../../src/catalogue/resolveMetricName.ts";

describe("resolveMetricName", () => {
  test.each([
    ["jumpHeight", "jumpHeight", "m", 1],
    ["JUMPHEIGHT", "jumpHeight", "m", 1],
    ["jump height", "jumpHeight", "m", 1],
    ["Jump_Height_CM", "jumpHeight", "cm", 100],
    ["jump height (cm)", "jumpHeight", "cm", 100],
    ["jump height [cm]", "jumpHeight", "cm", 100],
    ["timeToStabilization ms", "timeToStabilisation", "ms", 1000],
    ["Time to take-off ms", "timeToTakeoff", "ms", 1000],
    ["take-off velocity", "takeoffVelocity", "m/s", 1],
    ["peak force left relative", "peakForceLeftRelative", "N/kg", 1],
    ["peakForceRelativeLeft", "peakForceLeftRelative", "N/kg", 1],
    ["left peak force kN", "peakForceLeft", "kN", 0.001],
    ["peakForceNetRelative", "peakForceNetRelative", "N/kg", 1],
    ["meanForcePropulsionAsymmetry", "meanForcePropulsionAsymmetry", "%", 1],
    ["propulsionImpulse N s", "propulsionImpulse", "N s", 1],
    ["propulsionImpulse N·s", "propulsionImpulse", "N s", 1],
    ["propulsionImpulseRelative m/s", "propulsionImpulseRelative", "m/s", 1],
    ["force50ms", "force50ms", "N", 1],
    ["force 50 ms", "force50ms", "N", 1],
    ["force at 100 ms kN", "force100ms", "kN", 0.001],
    ["RFD 50–100 kN/s", "rfd50to100", "kN/s", 0.001],
    ["rate of force development, 0 to 50 ms", "rfd0to50", "N/s", 1],
    ["braking rate of force development", "brakingRfd", "N/s", 1],
    ["dipFraction %", "dipFraction", "%", 100],
    ["RSImod", "rsiModified", "m/s", 1],
    ["contraction time", "timeToTakeoff", "s", 1],
  ])("reads %s as %s in %s", (text, id, unit, factor) => {
    expect(resolveMetricName(text)).toMatchObject({ id, unit, factor });
  });

  // 1 in = 0.0254 m and 1 lb = 0.45359237 kg by definition.
  test("turns metres into inches and kilograms into pounds", () => {
    expect(resolveMetricName("jumpHeight in").factor * 0.0254).toBeCloseTo(1, 14);
    expect(resolveMetricName("bodyMass lb").factor * 0.45359237).toBeCloseTo(1, 14);
  });

  test.each([
    ["jumpheigth", /nearest are jumpHeight/],
    ["jumpHeight kg", /requires one of m, cm, mm, in, ft after the name; the unit kg is not one of its units/],
    ["jumpHeight parsec", /"parsec" is not known/],
    ["jumpHeightLeft", /jumpHeight requires a name without a side/],
    ["jumpHeightRelative", /without Relative/],
    ["peakPowerNet", /without Net/],
    ["peakPowerAsymmetry", /without Asymmetry/],
    ["peakForceNetLeft", /either Net or a side/],
    ["peakForceLeftAsymmetry", /Asymmetry alone/],
    ["asymmetry", /requires a known name/],
    ["", /requires a known name/],
    ["   ", /requires a known name/],
  ])("refuses %s with a reason", (text, message) => {
    expect(() => resolveMetricName(text)).toThrow(
      expect.objectContaining({ name: "InputError", code: "unknown-name", message: expect.stringMatching(message) }),
    );
  });

  test("reads every canonical id back to itself, in every form that exists", () => {
    for (const { id, forms } of METRICS) {
      const suffixes = [
        "",
        ...(forms.sides ? ["Left", "Right"] : []),
        ...(forms.relative ? ["Relative"] : []),
        ...(forms.sides && forms.relative ? ["LeftRelative", "RightRelative"] : []),
        ...(forms.net ? ["Net"] : []),
        ...(forms.net && forms.relative ? ["NetRelative"] : []),
        ...(forms.asymmetry ? ["Asymmetry"] : []),
      ];
      for (const suffix of suffixes) {
        const resolved = resolveMetricName(id + suffix);
        expect(resolved.id).toBe(id + suffix);
        expect(resolved.base.id).toBe(id);
        expect(resolveMetricName(resolved.id.toUpperCase()).id).toBe(resolved.id);
      }
    }
  });

  test("reads the printed name of every metric as that metric", () => {
    for (const { id, name } of METRICS) expect(resolveMetricName(name).id).toBe(id);
  });
});
