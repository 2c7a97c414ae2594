import { InputError } from "../src/errors.ts";
import { asymmetry, asymmetryFormulaByName } from "../src/metrics/asymmetry.ts";
import { parseProtocol } from "../src/protocols/parseProtocol.ts";
import { combineTests, type Component } from "../src/sessions/combineTests.ts";
import { sessionValue as sessionValueOf } from "../src/sessions/sessionValue.ts";
import { sideHistory } from "../src/sessions/sideHistory.ts";
import { asymmetryVerdict } from "../src/statistics/asymmetryVerdict.ts";
import { baselineBand } from "../src/statistics/baselineBand.ts";
import { betweenPeopleSd } from "../src/statistics/betweenPeopleSd.ts";
import { individualChange } from "../src/statistics/individualChange.ts";
import { minimalDetectableChange } from "../src/statistics/minimalDetectableChange.ts";
import { RATIO_METHODS, type RatioMethod } from "../src/statistics/ratioInterval.ts";
import { SIDE_RULES, sideRule, type SideRule } from "../src/statistics/sideRule.ts";
import { smallestWorthwhileChange } from "../src/statistics/smallestWorthwhileChange.ts";
import { typicalError as typicalErrorOf } from "../src/statistics/typicalError.ts";
import { inLanguage } from "../src/wording/inLanguage.ts";
import {
  readAsymmetry as asymmetryReading,
  readArmSwing,
  readBaseline as baselineReading,
  readBilateralIndex,
  readChange as changeReading,
  readDropProfile as dropReading,
  readDynamicStrength,
  readEccentricUtilisation,
  readLoadProfile as loadReading,
  readReliability as reliabilityReading,
  type Cuts,
  type Printed,
  type Reading,
} from "../src/wording/readings.ts";
import { isBlank, numberFrom, numbersFrom, optionalNumber, optionalWord, rowsFrom, singleFrom, tableFrom, textFrom } from "./runtime/cells.ts";
import { pickWhat } from "./runtime/pickWhat.ts";
import { partsOf } from "./runtime/partsOf.ts";
import { dropProfileFrom, loadProfileFrom } from "./runtime/profileArguments.ts";
import { meanAndCount, sidesFrom } from "./runtime/trials.ts";

/**
 * Value of a session from its valid trials: the mean or the best of the first k. The best grows with k, so always the same k.
 * @customfunction SESSION_VALUE
 * @param results Results in the order they were made; blank and 0 are left out.
 * @param [use] One cell a result; only rows that say "keep" count. All count when left out.
 * @param [rule] "mean" (default) or "best".
 * @param [trials] How many valid trials count; 3 when left out.
 * @param [better] "higher" (default) or "lower", for the best.
 * @param [what] "value" (default), "sd", "u", "count", "note", or "table" for all.
 * @returns Session value, in the unit of the results.
 */
export function sessionValue(results: any[][], use?: any[][], rule?: any, trials?: any, better?: any, what?: any): any[][] {
  const uses = rowsFrom(use).flat();
  const kept = rowsFrom(results)
    .flat()
    .filter((_, i) => uses.length === 0 || textFrom(uses[i], "use")?.toLowerCase() === "keep");
  const choice = { rule: optionalWord(singleFrom(rule, "rule"), "session value", ["mean", "best"], "mean"), trials: optionalNumber(singleFrom(trials, "trials"), "trials", 3) };
  const direction = optionalWord(singleFrom(better, "better"), "session value", ["higher", "lower"], "higher");
  const { value, sd, u, count, short, single } = sessionValueOf(numbersFrom([kept], "session value"), choice, direction);
  const note = inLanguage(single ? "single trial" : short ? `${count} of ${choice.trials} trials` : "");
  return pickWhat({ value, sd, u, count, rule: choice.rule, note }, what, "value");
}

/**
 * Careful reading of a combination of two tests: the parts first, the ratio with its limits, what may be considered, and what to look at next.
 * @customfunction READ_RATIO
 * @param kind "EUR" (countermovement, squat jump), "PRESTRETCH_AUGMENTATION", "DSI" (jump, pull; N) or "ARM_SWING" (with, without arms).
 * @param first First result.
 * @param second Second result, same quantity and unit.
 * @param [uFirst] Standard uncertainty of the first result; without it there are no limits.
 * @param [uSecond] Standard uncertainty of the second result.
 * @param [firstProtocol] Protocol text of the first result.
 * @param [secondProtocol] Protocol text of the second result; unlike protocols are refused.
 * @param [bodyWeight] Body weight, in N, for the net DSI.
 * @param [name] Name of the quantity, such as "jump height".
 * @param [unit] Unit of the quantity, such as "m".
 * @param [what] "text" (default), "word" for the verdict in a word or two, or a part: "components", "number", "reading", "next", "caution".
 * @param [cuts] The two cuts of the ratio, the lower one first; 1.0 and 1.1, or 0.6 and 0.8 for the DSI, when left out (common practice).
 * @param [level] Level of the limits, such as 0.95 (default).
 * @param [degreesOfFreedom] Degrees of freedom of the uncertainties, the fewer of the two; without them they are taken as exactly known.
 * @param [nFirst] Trials behind the first result.
 * @param [nSecond] Trials behind the second result.
 * @param [method] "fieller" (default), "log" or "delta".
 * @returns The reading.
 */
export function readRatio(kind: any, first: any, second: any, uFirst?: any, uSecond?: any, firstProtocol?: any, secondProtocol?: any, bodyWeight?: any, name?: any, unit?: any, what?: any, cuts?: any[][], level?: any, degreesOfFreedom?: any, nFirst?: any, nSecond?: any, method?: any): any[][] {
  const chosen = optionalWord(singleFrom(kind, "kind"), "reading of a ratio", ["EUR", "PRESTRETCH_AUGMENTATION", "DSI", "ARM_SWING"], "EUR");
  const combination = ({ EUR: "eccentricUtilisation", PRESTRETCH_AUGMENTATION: "prestretchAugmentation", DSI: "dynamicStrength", ARM_SWING: "armSwing" } as const)[chosen];
  const weight = optionalNumber(singleFrom(bodyWeight, "body weight"), "body weight", undefined);
  const given = (value: unknown, means: string): number | undefined => optionalNumber(singleFrom(value, means), means, undefined);
  const combined = combineTests(combination, [part("first result", first, uFirst, firstProtocol, nFirst), part("second result", second, uSecond, secondProtocol, nSecond)], {
    bodyWeight: weight,
    level: given(level, "level"),
    degreesOfFreedom: given(degreesOfFreedom, "degrees of freedom") ?? Infinity,
    method: methodFrom(method),
  });
  const limits = cutsFrom(cuts);
  const quantity = printedAs(name, unit);
  const reading = chosen === "DSI" ? readDynamicStrength(combined, limits) : chosen === "ARM_SWING" ? readArmSwing(combined, quantity) : readEccentricUtilisation(combined, quantity, limits);
  return shown(reading, what);
}

/**
 * Careful reading of both limbs together against each limb alone: the parts first, the index with its limits, and what to look at next.
 * @customfunction READ_BILATERAL
 * @param both Result with both limbs.
 * @param left Result of the left limb alone.
 * @param right Result of the right limb alone.
 * @param [uBoth] Standard uncertainty of the result with both limbs; without it there are no limits.
 * @param [uLeft] Standard uncertainty of the left limb.
 * @param [uRight] Standard uncertainty of the right limb.
 * @param [name] Name of the quantity, such as "peak force".
 * @param [unit] Unit of the quantity, such as "N".
 * @param [what] "text" (default), "word" for the verdict in a word or two, or a part: "components", "number", "reading", "next", "caution".
 * @param [bothProtocol] Protocol text of the test with both limbs.
 * @param [leftProtocol] Protocol text of the left limb.
 * @param [rightProtocol] Protocol text of the right limb; unlike protocols are refused.
 * @param [level] Level of the limits, such as 0.95 (default).
 * @param [degreesOfFreedom] Degrees of freedom of the uncertainties, the fewest of the three; without them they are taken as exactly known.
 * @param [nBoth] Trials behind the result with both limbs.
 * @param [nLeft] Trials behind that of the left limb.
 * @param [nRight] Trials behind that of the right limb.
 * @param [method] "fieller" (default), "log" or "delta".
 * @returns The reading.
 */
export function readBilateral(both: any, left: any, right: any, uBoth?: any, uLeft?: any, uRight?: any, name?: any, unit?: any, what?: any, bothProtocol?: any, leftProtocol?: any, rightProtocol?: any, level?: any, degreesOfFreedom?: any, nBoth?: any, nLeft?: any, nRight?: any, method?: any): any[][] {
  const combined = combineTests(
    "bilateral",
    [part("both limbs", both, uBoth, bothProtocol, nBoth), part("left limb", left, uLeft, leftProtocol, nLeft), part("right limb", right, uRight, rightProtocol, nRight)],
    {
      level: optionalNumber(singleFrom(level, "level"), "level", undefined),
      degreesOfFreedom: optionalNumber(singleFrom(degreesOfFreedom, "degrees of freedom"), "degrees of freedom", undefined) ?? Infinity,
      method: methodFrom(method),
    },
  );
  return shown(readBilateralIndex(combined, printedAs(name, unit)), what);
}

/**
 * Careful reading of a difference between left and right: real or within noise, with the numbers behind it. Never a diagnosis.
 * @customfunction READ_ASYMMETRY
 * @param leftTrials Results of the left side, one a trial.
 * @param rightTrials Results of the right side; of the same trials in the same order for bilateral tests.
 * @param [design] "bilateral" (default: both sides in one trial) or "singleLeg" (separate trials).
 * @param [formula] Name of the formula of the percentage; symmetryIndex when left out, standardPercentageDifference for single legs.
 * @param [name] Name of the quantity, such as "peak force".
 * @param [unit] Unit of the quantity, such as "N".
 * @param [what] "text" (default), "word" for the verdict in a word or two, or a part: "components", "number", "reading", "next", "caution".
 * @param [earlier] Signed percentages of earlier sessions, oldest first, positive when left was higher (such as log ratios): says whether the side is steady.
 * @param [rule] "interval" (default), "larger variation" or "rank test": which decides. The last two are said with how often they are wrong.
 * @returns The reading.
 */
export function readAsymmetry(leftTrials: any[][], rightTrials: any[][], design?: any, formula?: any, name?: any, unit?: any, what?: any, earlier?: any[][], rule?: any): any[][] {
  const chosen = optionalWord(singleFrom(design, "design"), "reading of asymmetry", ["bilateral", "singleLeg"], "bilateral");
  const [left, right] = sidesFrom(leftTrials, rightTrials, chosen);
  const verdict = asymmetryVerdict(left, right, chosen);
  const named = asymmetryFormulaByName(textFrom(singleFrom(formula, "formula"), "formula") ?? (chosen === "bilateral" ? "symmetryIndex" : "standardPercentageDifference"));
  const percentage = asymmetry(verdict.leftMean, verdict.rightMean, named.id);
  const before = numbersFrom(earlier, "earlier sessions");
  const decides = optionalWord<SideRule>(singleFrom(rule, "rule"), "reading of asymmetry", SIDE_RULES, "interval");
  const difference = {
    verdict,
    formula: named.name,
    percentage,
    ...(before.length > 0 ? { history: sideHistory([...before, asymmetry(verdict.leftMean, verdict.rightMean, "logRatio")]) } : {}),
    ...(decides === "interval" ? {} : { rule: sideRule(decides, left, right, chosen) }),
  };
  return shown(asymmetryReading(difference, printedAs(name, unit)), what);
}

/**
 * Careful reading of the change of one person, against no change and the smallest worthwhile change.
 * @customfunction READ_CHANGE
 * @param before Result before, or a range of results that is averaged.
 * @param after Result after, or a range of results.
 * @param typicalError Typical error of one result, in the unit of the results.
 * @param [smallestWorthwhile] Smallest worthwhile change, in the unit of the results.
 * @param [degreesOfFreedom] Degrees of freedom of the typical error.
 * @param [level] Level of the interval, such as 0.9 (default).
 * @param [name] Name of the quantity, such as "jump height".
 * @param [unit] Unit of the results, such as "m".
 * @param [better] "higher", "lower" or "neither": which way is better; not said when left out.
 * @param [what] "text" (default), "word" for the verdict in a word or two, or a part: "components", "number", "reading", "next", "caution".
 * @param [display] "interval" (default), or "probability" to add the probabilities beyond the smallest worthwhile change; contested as an inference.
 * @returns The reading.
 */
export function readChange(before: any[][], after: any[][], typicalError: any, smallestWorthwhile?: any, degreesOfFreedom?: any, level?: any, name?: any, unit?: any, better?: any, what?: any, display?: any): any[][] {
  const [from, to] = [meanAndCount(before, undefined, "before"), meanAndCount(after, undefined, "after")];
  const swc = optionalNumber(singleFrom(smallestWorthwhile, "smallest worthwhile change"), "smallest worthwhile change", undefined);
  const change = individualChange(from.mean, to.mean, numberFrom(singleFrom(typicalError, "typical error"), "typical error"), {
    countBefore: from.count,
    countAfter: to.count,
    degreesOfFreedom: optionalNumber(singleFrom(degreesOfFreedom, "degrees of freedom"), "degrees of freedom", undefined),
    level: optionalNumber(singleFrom(level, "level"), "level", undefined),
    smallestWorthwhile: swc,
  });
  const direction = optionalWord(singleFrom(better, "better"), "reading of a change", ["higher", "lower", "neither"], "neither");
  const probabilities = optionalWord(singleFrom(display, "display"), "reading of a change", ["interval", "probability"], "interval") === "probability";
  return shown(changeReading({ before: from.mean, after: to.mean, change, smallestWorthwhile: swc, probabilities }, { ...printedAs(name, unit), better: direction }), what);
}

/**
 * Careful reading of a new session against the band of the person's own baseline.
 * @customfunction READ_BASELINE
 * @param history Earlier session results, oldest first; blank and 0 are left out.
 * @param newResult The new result.
 * @param [typicalError] Typical error of one session result known from a group.
 * @param [degreesOfFreedom] Degrees of freedom of the typical error.
 * @param [sessions] How many of the last sessions count; all when left out.
 * @param [level] Level of the band, such as 0.95 (default).
 * @param [name] Name of the quantity, such as "jump height".
 * @param [unit] Unit of the results, such as "m".
 * @param [what] "text" (default), "word" for the verdict in a word or two, or a part: "components", "number", "reading", "next", "caution".
 * @returns The reading.
 */
export function readBaseline(history: any[][], newResult: any, typicalError?: any, degreesOfFreedom?: any, sessions?: any, level?: any, name?: any, unit?: any, what?: any): any[][] {
  const band = baselineBand(numbersFrom(history, "baseline"), {
    typicalError: optionalNumber(singleFrom(typicalError, "typical error"), "typical error", undefined),
    degreesOfFreedom: optionalNumber(singleFrom(degreesOfFreedom, "degrees of freedom"), "degrees of freedom", undefined),
    sessions: optionalNumber(singleFrom(sessions, "sessions"), "sessions", undefined),
    level: optionalNumber(singleFrom(level, "level"), "level", undefined),
  });
  return shown(baselineReading(numberFrom(singleFrom(newResult, "new result"), "new result"), band, printedAs(name, unit)), what);
}

/**
 * Careful reading of a table of repeated results: whether the test tells a worthwhile change of one person, of groups, or neither.
 * @customfunction READ_RELIABILITY
 * @param table People in rows, at least two trials or days in columns; blank and 0 are gaps.
 * @param [factor] Share of the standard deviation between people that is worthwhile; 0.2 when left out.
 * @param [name] Name of the quantity, such as "jump height".
 * @param [unit] Unit of the results, such as "cm".
 * @param [what] "text" (default), "word" for the verdict in a word or two, or a part: "components", "number", "reading", "next", "caution".
 * @returns The reading.
 */
export function readReliability(table: any[][], factor?: any, name?: any, unit?: any, what?: any): any[][] {
  const people = tableFrom(table, "reading of reliability");
  const error = typicalErrorOf(people).value;
  const numbers = {
    typicalError: error,
    smallestWorthwhile: smallestWorthwhileChange(betweenPeopleSd(people).value, optionalNumber(singleFrom(factor, "factor"), "factor", undefined)),
    minimalDetectable: minimalDetectableChange(error),
  };
  return shown(reliabilityReading(numbers, printedAs(name, unit)), what);
}

/**
 * Careful reading of reactive strength over drop heights: all heights first, then whether one is best. Drop jumps are not for everyone: heed the cautions.
 * @customfunction READ_DROP_PROFILE
 * @param heights Nominal drop heights, in m; one column, one row a height.
 * @param rsi Reactive strength index at each height.
 * @param contactTimes Ground contact time at each height, in s.
 * @param [typicalError] Typical error of the index of one trial: without it no height can be told from another.
 * @param [counts] Trials behind each row; 1 when left out.
 * @param [jumpHeights] Jump height at each drop height, in m.
 * @param [fastContact] Longest contact of a fast stretch-shortening cycle, in s; 0.25 when left out.
 * @param [what] "text" (default), "word" for the verdict in a word or two, or a part: "components", "number", "reading", "next", "caution".
 * @param [degreesOfFreedom] Degrees of freedom of the typical error; without them it is taken as exactly known.
 * @param [measuredHeights] Real drop at each height, in m; shown beside the nominal one.
 * @returns The reading.
 */
export function readDropProfile(heights: any[][], rsi: any[][], contactTimes: any[][], typicalError?: any, counts?: any[][], jumpHeights?: any[][], fastContact?: any, what?: any, degreesOfFreedom?: any, measuredHeights?: any[][]): any[][] {
  const limit = optionalNumber(singleFrom(fastContact, "fast contact"), "fast contact", undefined);
  return shown(dropReading(dropProfileFrom(heights, rsi, contactTimes, typicalError, counts, jumpHeights, limit, undefined, degreesOfFreedom, measuredHeights), limit), what);
}

/**
 * Reading of a force-velocity line from loaded jumps: points, line and limits, and no training verdict.
 * @customfunction READ_LOAD_PROFILE
 * @param loads External loads, in kg; 0 for the jump without load.
 * @param heights Jump height above take-off at each load, in m.
 * @param mass Body mass, in kg.
 * @param pushOff Push-off distance, in m.
 * @param [what] "text" (default), "word" for the verdict in a word or two, or a part: "components", "number", "reading", "next", "caution".
 * @param [level] Level of the limits, such as 0.95 (default).
 * @param [g] Gravity, in m/s²; 9.80665 when left out.
 * @returns The reading.
 */
export function readLoadProfile(loads: any[][], heights: any[][], mass: any, pushOff: any, what?: any, level?: any, g?: any): any[][] {
  return shown(loadReading(loadProfileFrom(loads, heights, mass, pushOff, level, g)), what);
}

function part(what: string, value: unknown, u: unknown, protocol: unknown, n?: unknown): Component {
  const uncertainty = optionalNumber(singleFrom(u, `uncertainty of the ${what}`), `uncertainty of the ${what}`, undefined);
  const text = textFrom(singleFrom(protocol, "protocol"), "protocol");
  const count = optionalNumber(singleFrom(n, `trials of the ${what}`), `trials of the ${what}`, undefined);
  return {
    value: numberFrom(singleFrom(value, what), what),
    ...(count === undefined ? {} : { count }),
    ...(uncertainty === undefined ? {} : { u: uncertainty }),
    ...(text === undefined ? {} : { protocol: parseProtocol(text) }),
  };
}

function methodFrom(method: unknown): RatioMethod {
  return optionalWord(singleFrom(method, "method"), "limits of a ratio", RATIO_METHODS, "fieller");
}

function cutsFrom(cuts: unknown): Cuts | undefined {
  const values = numbersFrom(cuts, "cuts");
  if (values.length === 0) return undefined;
  if (values.length !== 2 || values[0] >= values[1]) throw new InputError("wrong-shape", "cuts of a ratio requires two cells, the lower one first");
  return { low: values[0], high: values[1] };
}

function printedAs(name: unknown, unit: unknown): Printed {
  const printed = singleFrom(unit, "unit");
  return { name: textFrom(singleFrom(name, "name"), "name") ?? "result", unit: isBlank(printed) ? "" : (textFrom(printed, "unit") ?? "") };
}

function shown(reading: Reading, what: unknown): any[][] {
  return pickWhat(partsOf(reading), what, "text");
}
