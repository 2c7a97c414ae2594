import { asymmetryVerdict as asymmetryVerdictOf } from "../src/statistics/asymmetryVerdict.ts";
import { baselineBand } from "../src/statistics/baselineBand.ts";
import { bestOfBias } from "../src/statistics/bestOfBias.ts";
import { exponentiallyWeightedMean } from "../src/statistics/exponentiallyWeightedMean.ts";
import { individualChange } from "../src/statistics/individualChange.ts";
import { reliableChangeIndex } from "../src/statistics/reliableChangeIndex.ts";
import { SIDE_RULES, sideRule, type SideRule } from "../src/statistics/sideRule.ts";
import { tScore as tScoreOf } from "../src/statistics/tScore.ts";
import { zScore as zScoreOf } from "../src/statistics/zScore.ts";
import { cellByCell } from "./runtime/cellByCell.ts";
import { numberFrom, numbersFrom, optionalNumber, optionalWord, singleFrom } from "./runtime/cells.ts";
import { pickWhat } from "./runtime/pickWhat.ts";
import { meanAndCount, sidesFrom } from "./runtime/trials.ts";

/**
 * Change of one person with its interval from the typical error, and against a smallest worthwhile change when it is given.
 * @customfunction CHANGE
 * @param before Result before, or the mean of several; a range of results is averaged and counted.
 * @param after Result after, or a range of results.
 * @param typicalError Typical error of one result, in the unit of the results.
 * @param [smallestWorthwhile] Smallest worthwhile change, in the unit of the results: adds probabilities under a flat prior.
 * @param [countBefore] Results behind "before" where it is their mean; 1 when left out.
 * @param [countAfter] Results behind "after" where it is their mean; 1 when left out.
 * @param [degreesOfFreedom] Degrees of freedom of the typical error; without them it is taken as exactly known.
 * @param [level] Level of the interval, such as 0.9 (default).
 * @param [what] "table" (default) for all, or one of "change", "low", "high", "standardError", "index", "up", "trivial", "down".
 * @returns Change and its interval, in the unit of the results.
 */
export function change(before: any[][], after: any[][], typicalError: any, smallestWorthwhile?: any, countBefore?: any, countAfter?: any, degreesOfFreedom?: any, level?: any, what?: any): any[][] {
  const from = meanAndCount(before, countBefore, "before");
  const to = meanAndCount(after, countAfter, "after");
  const error = numberFrom(singleFrom(typicalError, "typical error"), "typical error");
  const found = individualChange(from.mean, to.mean, error, {
    countBefore: from.count,
    countAfter: to.count,
    degreesOfFreedom: optionalNumber(singleFrom(degreesOfFreedom, "degrees of freedom"), "degrees of freedom", undefined),
    level: optionalNumber(singleFrom(level, "level"), "level", undefined),
    smallestWorthwhile: optionalNumber(singleFrom(smallestWorthwhile, "smallest worthwhile change"), "smallest worthwhile change", undefined),
  });
  return pickWhat(
    {
      change: found.change,
      low: found.low,
      high: found.high,
      level: found.level,
      standardError: found.standardError,
      index: from.count === 1 && to.count === 1 ? reliableChangeIndex(from.mean, to.mean, error) : undefined,
      up: found.probabilities?.up,
      trivial: found.probabilities?.trivial,
      down: found.probabilities?.down,
    },
    what,
    "table",
  );
}

/**
 * A new result against a person's own baseline: mean, band for a new value, z, and whether it lies inside. The new value never counts in its own baseline.
 * @customfunction BASELINE
 * @param history Earlier session results, oldest first; blank and 0 are left out.
 * @param [newResult] The new result.
 * @param [typicalError] Typical error of one session result known from a group: the band then uses it, better with few sessions.
 * @param [degreesOfFreedom] Degrees of freedom of the typical error.
 * @param [sessions] How many of the last sessions count; all when left out.
 * @param [level] Level of the band, such as 0.95 (default).
 * @param [what] "table" (default) for all, or one of "mean", "sd", "n", "low", "high", "difference", "percent", "z", "verdict".
 * @returns Band and position of the new result, in the unit of the results.
 */
export function baseline(history: any[][], newResult?: any, typicalError?: any, degreesOfFreedom?: any, sessions?: any, level?: any, what?: any): any[][] {
  const band = baselineBand(numbersFrom(history, "baseline"), {
    typicalError: optionalNumber(singleFrom(typicalError, "typical error"), "typical error", undefined),
    degreesOfFreedom: optionalNumber(singleFrom(degreesOfFreedom, "degrees of freedom"), "degrees of freedom", undefined),
    sessions: optionalNumber(singleFrom(sessions, "sessions"), "sessions", undefined),
    level: optionalNumber(singleFrom(level, "level"), "level", undefined),
  });
  const value = optionalNumber(singleFrom(newResult, "new result"), "new result", undefined);
  const difference = value === undefined ? undefined : value - band.mean;
  return pickWhat(
    {
      mean: band.mean,
      sd: band.sd,
      n: band.n,
      low: band.low,
      high: band.high,
      level: band.level,
      difference,
      percent: difference === undefined || band.mean === 0 ? undefined : (100 * difference) / band.mean,
      z: difference === undefined || band.sd === undefined || band.sd === 0 ? undefined : difference / band.sd,
      verdict: value === undefined ? undefined : value < band.low ? "below" : value > band.high ? "above" : "inside",
      method: band.method,
    },
    what,
    "table",
  );
}

/**
 * Exponentially weighted mean of a history, starting at its first value.
 * @customfunction EWMA
 * @param history Results, oldest first; blank and 0 are left out.
 * @param [weight] Weight of the newest value, above 0 and up to 1; 0.3 when left out.
 * @returns Weighted mean, in the unit of the results.
 */
export function ewma(history: any[][], weight?: any): number {
  return exponentiallyWeightedMean(numbersFrom(history, "weighted mean"), optionalNumber(singleFrom(weight, "weight"), "weight", undefined));
}

/**
 * Z score of results within a group: distance from the group's mean in its standard deviations. State the number in the group.
 * @customfunction Z_SCORE
 * @param value Result; a cell or a range.
 * @param group Results of the group; blank and 0 are left out.
 * @param [better] "higher" (default) or "lower", where less is better and the sign is turned.
 * @returns z score, no unit.
 */
export function zScore(value: any[][], group: any[][], better?: any): any[][] {
  return scores("z score", value, group, better, zScoreOf);
}

/**
 * T score of results within a group: 50 + 10 z. State the number in the group, and do not rank inside the typical error.
 * @customfunction T_SCORE
 * @param value Result; a cell or a range.
 * @param group Results of the group; blank and 0 are left out.
 * @param [better] "higher" (default) or "lower", where less is better and the sign is turned.
 * @returns T score, no unit.
 */
export function tScore(value: any[][], group: any[][], better?: any): any[][] {
  return scores("T score", value, group, better, tScoreOf);
}

function scores(what: string, value: unknown, group: unknown, better: unknown, score: (value: number, group: readonly number[], better: "higher" | "lower") => number): unknown[][] {
  const others = numbersFrom(group, `${what}: group`);
  const direction = optionalWord(singleFrom(better, "better"), what, ["higher", "lower"], "higher");
  return cellByCell(what, [{ name: "value", value }], (x: number) => score(x, others, direction));
}

/**
 * Bias of the best of k trials, in within-person standard deviations of a trial: why the same k must always be used.
 * @customfunction BEST_OF_BIAS
 * @param trials Number of trials k; a cell or a range.
 * @returns Expected excess of the best over the mean, in standard deviations.
 */
export function bestBias(trials: any[][]): any[][] {
  return cellByCell("bias of the best", [{ name: "trials", value: trials }], bestOfBias);
}

/**
 * Whether left and right differ by more than trials differ among themselves: interval of the log ratio, paired for bilateral trials, Welch for single-leg ones.
 * @customfunction ASYMMETRY_VERDICT
 * @param leftTrials Results of the left side, one a trial.
 * @param rightTrials Results of the right side; of the same trials in the same order for bilateral tests.
 * @param [design] "bilateral" (default: both sides in one trial) or "singleLeg" (separate trials).
 * @param [level] Level of the interval, such as 0.95 (default).
 * @param [what] "verdict" (default), "logRatio", "low", "high", "side", "falsePositivePercent" …, or "table" for all.
 * @param [rule] "interval" (default), "larger variation" or "rank test": which decides. "falsePositivePercent" says how often it calls equal sides different.
 * @returns "real" or "within noise", or the quantity asked for.
 */
export function asymmetryVerdict(leftTrials: any[][], rightTrials: any[][], design?: any, level?: any, what?: any, rule?: any): any[][] {
  const chosen = optionalWord(singleFrom(design, "design"), "asymmetry verdict", ["bilateral", "singleLeg"], "bilateral");
  const [left, right] = sidesFrom(leftTrials, rightTrials, chosen);
  const used = optionalNumber(singleFrom(level, "level"), "level", undefined);
  const found = asymmetryVerdictOf(left, right, chosen, used);
  const answer = sideRule(optionalWord<SideRule>(singleFrom(rule, "rule"), "asymmetry verdict", SIDE_RULES, "interval"), left, right, chosen, used);
  return pickWhat(
    {
      verdict: answer.real ? "real" : "within noise",
      side: found.side,
      logRatio: found.logRatio,
      low: found.low,
      high: found.high,
      level: found.level,
      leftMean: found.leftMean,
      rightMean: found.rightMean,
      leftCount: found.leftCount,
      rightCount: found.rightCount,
      design: found.design,
      rule: answer.rule,
      falsePositivePercent: answer.falsePositivePercent,
    },
    what,
    "verdict",
  );
}
