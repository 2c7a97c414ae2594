import { describe, expect, test } from "vitest";
import { collectSteps } from "../../../taskpane/explain/collectSteps.ts";
import { stepWithNumbers } from "../../../taskpane/explain/stepWithNumbers.ts";
import type { Step } from "../../../src/protocols/Analysis.ts";

const step = (gives: string, formula: string, inputs: readonly (readonly [string, number, string?])[], value = 0): Step => ({
  gives, formula, value, unit: "", inputs: inputs.map(([symbol, number, from]) => ({ symbol, value: number, unit: "", from })),
});
const plain = (value: number): string => String(value).replace("-", "\u2212");

describe("stepWithNumbers", () => {
  test.each([
    [step("h", "v_TO^2 / (2 g)", [["v_TO", 2.6], ["g", 9.81]]), "2.6^2 / (2 \u00b7 9.81)"],
    [step("h", "g t_f^2 / 8", [["g", 9.81], ["t_f", 0.5]]), "9.81 \u00b7 0.5^2 / 8"],
    [step("t", "t_TO - t_0", [["t_TO", 2.5], ["t_0", 1.75]]), "2.5 \u2212 1.75"],
    [step("d", "z_TO - z_low", [["z_TO", 0.1], ["z_low", -0.3]]), "0.1 \u2212 (\u22120.3)"],
    [step("k", "(F_low - BW) / |z_low|", [["F_low", 1800], ["BW", 700], ["z_low", -0.3]]), "(1800 \u2212 700) / |(\u22120.3)|"],
    [step("v", "-sqrt(2 g h_box)", [["g", 9.81], ["h_box", 0.3]]), "\u2212sqrt(2 \u00b7 9.81 \u00b7 0.3)"],
    [step("p", "m (v_2 - v_1)", [["m", 70], ["v_2", 2.5], ["v_1", 0]]), "70 \u00b7 (2.5 \u2212 0)"],
    [step("r", "(F(t_low) - F(t_vmin)) / t", [["F(t_low)", 1800], ["F(t_vmin)", 700], ["t", 0.2]]), "(1800 \u2212 700) / 0.2"],
  ])("writes $formula with its numbers", (given, expected) => {
    expect(stepWithNumbers(given, plain)).toBe(expected);
  });

  test("leaves a formula that speaks of samples alone", () => {
    expect(stepWithNumbers(step("BW", "mean F, t_1 <= t < t_2", [["t_1", 0.1], ["t_2", 1.1]]), plain)).toBeUndefined();
    expect(stepWithNumbers(step("v", "g (integral of F dt / BW - (t_TO - t_0))", [["g", 9.81], ["BW", 700], ["t_TO", 2], ["t_0", 1]]), plain)).toBeUndefined();
  });

  test("does not take the beginning of a longer symbol for a shorter one", () => {
    expect(stepWithNumbers(step("x", "t_f / t", [["t", 2], ["t_f", 1]]), plain)).toBe("1 / 2");
  });
});

describe("collectSteps", () => {
  const steps = [step("bodyWeight", "mean F", []), step("takeoffVelocity", "integral", [["BW", 700, "bodyWeight"], ["g", 9.81, "gravity"]]), step("peakForce", "max F", []), step("jumpHeight", "v_TO^2 / (2 g)", [["v_TO", 2.6, "takeoffVelocity"]])];

  test("gives what a value stands on before the value, and nothing else", () => {
    expect(collectSteps(steps, ["jumpHeight"]).map((found) => found.gives)).toEqual(["bodyWeight", "takeoffVelocity", "jumpHeight"]);
  });
  test("takes the last step of a name and ends on steps that stand on each other", () => {
    const round = [step("a", "b", [["b", 1, "b"]], 1), step("b", "a", [["a", 1, "a"]]), step("a", "b", [["b", 1, "b"]], 2)];
    expect(collectSteps(round, ["a"]).map((found) => found.value)).toEqual([0, 2]);
  });
  test("gives nothing for what has no steps", () => {
    expect(collectSteps(steps, ["contactTime"])).toEqual([]);
  });
});
