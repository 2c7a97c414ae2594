import { InputError } from "../errors.ts";
import { asymmetryVerdict } from "./asymmetryVerdict.ts";
import type { AsymmetryDesign } from "./asymmetryVerdict.ts";
import { largerVariationRule } from "./largerVariationRule.ts";
import { mannWhitney } from "./mannWhitney.ts";

/** Ways to tell a difference between sides from noise; the interval is the default, the others are offered because they are in use. */
export const SIDE_RULES = ["interval", "larger variation", "rank test"] as const;
export type SideRule = (typeof SIDE_RULES)[number];

/** What a rule says, and how often it is wrong about equal sides. */
export interface SideRuleAnswer {
  readonly rule: SideRule;
  readonly real: boolean;
  /** How often this rule calls equal sides different with these trials, %. */
  readonly falsePositivePercent: number;
  /** Fewest trials of a side. */
  readonly trials: number;
}

/**
 * Whether the sides differ, by a named rule, with the rate at which the rule is wrong about equal sides.
 *
 * `interval`: the log ratio's interval leaves out zero; wrong in `100 (1 - level)` %. `larger
 * variation`: the percentage exceeds the larger coefficient of variation; its rate depends on
 * the trials and was simulated for a variation of 5 %. `rank test`: exact Mann-Whitney below
 * `1 - level`, which throws the pairing of bilateral trials away; its rate is counted exactly.
 *
 * @param rule Rule, no unit.
 * @param left Results of the left side by trial, in the unit of the quantity.
 * @param right Results of the right side by trial, same unit.
 * @param design How the trials were made, no unit.
 * @param level Level of interval and rank test, no unit.
 * @returns Verdict of the rule; its false-positive rate, in %.
 * @throws {InputError} `unknown-name` if the rule is not known, and the codes of the rule itself.
 * @see Exell et al. (2012), from memory, for the larger variation and the rank test.
 */
export function sideRule(
  rule: SideRule,
  left: readonly number[],
  right: readonly number[],
  design: AsymmetryDesign,
  level: number = 0.95,
): SideRuleAnswer {
  const trials = Math.min(left.length, right.length);
  switch (rule) {
    case "interval":
      return { rule, real: asymmetryVerdict(left, right, design, level).real, falsePositivePercent: 100 * (1 - level), trials };
    case "larger variation": {
      const { real, falsePositivePercent } = largerVariationRule(left, right);
      return { rule, real, falsePositivePercent, trials };
    }
    case "rank test": {
      const { p, size } = mannWhitney(left, right, 1 - level);
      return { rule, real: p < 1 - level, falsePositivePercent: 100 * size, trials };
    }
    default:
      throw new InputError("unknown-name", `asymmetry verdict requires one of the rules ${SIDE_RULES.join(", ")}`);
  }
}
