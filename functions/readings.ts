import { InputError } from "../src/errors.ts";
import { asymmetry, asymmetryFormulaByName } from "../src/metrics/asymmetry.ts";
import { loadProfile } from "../src/sessions/loadProfile.ts";
import { sideHistory } from "../src/sessions/sideHistory.ts";
import { asymmetryVerdict } from "../src/statistics/asymmetryVerdict.ts";
import { baselineBand } from "../src/statistics/baselineBand.ts";
import { dropHeightProfile } from "../src/statistics/dropHeightProfile.ts";
import { individualChange } from "../src/statistics/individualChange.ts";
import { mean } from "../src/statistics/moments.ts";
import { SIDE_RULES, sideRule } from "../src/statistics/sideRule.ts";
import {
  readArmSwing, readAsymmetry, readBaseline, readBilateralIndex, readChange as readingOfChange, readDropProfile as readingOfDropProfile, readDynamicStrength,
  readEccentricUtilisation, readLoadProfile as readingOfLoadProfile, readReactiveStrength as readingOfReactiveStrength, readReliability as readingOfReliability,
  type Cuts, type Printed, type Reading,
} from "../src/wording/readings.ts";
import { combinedFrom } from "./decisions.ts";
import { completePairs } from "./runtime/completePairs.ts";
import { columnFrom } from "./runtime/decisionArguments.ts";
import { isGiven, numberFrom, numbersFrom, optionalNumber, optionalWord, singleFrom, textFrom } from "./runtime/cells.ts";

/**
 * Reading of a combination of tests in careful words: components, ratio with limits, what it is compatible with, what to look at next. "Undecided" where the limits reach across a cut.
 * @customfunction READ_COMBINED
 * @param kind "EUR", "PRESTRETCH_AUGMENTATION", "DSI", "ARM_SWING" or "BILATERAL_INDEX".
 * @param first Trials of the numerator; a range is averaged.
 * @param second Trials of the denominator, same quantity and unit.
 * @param [third] Trials of the right limb, for the bilateral index.
 * @param [protocols] Protocol texts of the parts, in the same order.
 * @param [bodyWeight] Body weight, in N, for the net strength index.
 * @param [cuts] The two cuts of the ratio; 1.0 and 1.1, or 0.6 and 0.8 for the strength index (common practice).
 * @param [unit] Unit of the components, for the sentence.
 * @param [part] "all" (default), "verdict", "components", "number", "reading", "next" or "caution".
 * @param [level] Level of the limits, such as 0.95 (default).
 * @param [method] "fieller" (default), "log" or "delta".
 * @returns The reading, or a part of it.
 */
export function readCombined(kind: any, first: any[][], second: any[][], third?: any[][], protocols?: any[][], bodyWeight?: any, cuts?: any[][], unit?: any, part?: any, level?: any, method?: any): string {
  const combined = combinedFrom(kind, first, second, third, protocols, bodyWeight, level, method);
  const printed = printedFrom(undefined, unit);
  const limits = cutsFrom(cuts);
  switch (combined.kind) {
    case "eccentricUtilisation":
    case "prestretchAugmentation":
      return partOf(readEccentricUtilisation(combined, printed, limits), part);
    case "dynamicStrength":
      return partOf(readDynamicStrength(combined, limits), part);
    case "armSwing":
      return partOf(readArmSwing(combined, printed), part);
    case "bilateral":
      return partOf(readBilateralIndex(combined, printed), part);
  }
}

/**
 * Reading of left against right in careful words: both sides, the percentage with the name of its formula, the limits, whether the side is steady over sessions. No threshold for return to sport.
 * @customfunction READ_SIDES
 * @param leftTrials Results of the left side, one a trial.
 * @param rightTrials Results of the right side; of the same trials in the same order for bilateral tests.
 * @param [design] "bilateral" (default) or "singleLeg".
 * @param [formula] Name of the formula; symmetry index for bilateral trials, standard percentage difference for single-leg ones when left out.
 * @param [earlier] Signed percentages of the earlier sessions by the same formula, oldest first.
 * @param [rule] "interval" (default), "larger variation" or "rank test"; the last two are said with how often they are wrong.
 * @param [unit] Unit of the sides, for the sentence.
 * @param [part] "all" (default), "verdict", "components", "number", "reading", "next" or "caution".
 * @param [level] Level of the interval, such as 0.95 (default).
 * @returns The reading, or a part of it.
 */
export function readSides(leftTrials: any[][], rightTrials: any[][], design?: any, formula?: any, earlier?: any[][], rule?: any, unit?: any, part?: any, level?: any): string {
  const made = optionalWord(singleFrom(design, "design"), "reading of sides", ["bilateral", "singleLeg"], "bilateral");
  const [left, right] = made === "bilateral" ? completePairs(leftTrials, rightTrials) : [numbersFrom(leftTrials, "left trials"), numbersFrom(rightTrials, "right trials")];
  const used = optionalNumber(singleFrom(level, "level"), "level", 0.95);
  const verdict = asymmetryVerdict(left, right, made, used);
  const { id, name } = asymmetryFormulaByName(textFrom(singleFrom(formula, "formula"), "formula") ?? (made === "bilateral" ? "symmetryIndex" : "standardPercentageDifference"));
  const percentage = asymmetry(mean(left), mean(right), id);
  const before = numbersFrom(earlier, "earlier sessions");
  const chosen = optionalWord(singleFrom(rule, "rule"), "reading of sides", SIDE_RULES, "interval");
  return partOf(
    readAsymmetry(
      {
        verdict,
        formula: name,
        percentage,
        ...(before.length > 0 ? { history: sideHistory([...before, percentage]) } : {}),
        ...(chosen === "interval" ? {} : { rule: sideRule(chosen, left, right, made, used) }),
      },
      printedFrom(undefined, unit),
    ),
    part,
  );
}

/**
 * Reading of the change of one person in careful words: before and after, change with limits, against no change and the smallest worthwhile change.
 * @customfunction READ_CHANGE
 * @param before Results before; a range is averaged and counted.
 * @param after Results after.
 * @param typicalError Typical error of one result, in the unit of the results.
 * @param [smallestWorthwhile] Smallest worthwhile change, in the unit of the results.
 * @param [degreesOfFreedom] Degrees of freedom of the typical error.
 * @param [quantity] Name of the quantity, for the sentence.
 * @param [unit] Unit of the results, for the sentence.
 * @param [better] "higher", "lower" or "neither" (default).
 * @param [part] "all" (default), "verdict", "components", "number", "reading", "next" or "caution".
 * @param [level] Level of the interval, such as 0.9 (default).
 * @returns The reading, or a part of it.
 */
export function readChange(before: any[][], after: any[][], typicalError: any, smallestWorthwhile?: any, degreesOfFreedom?: any, quantity?: any, unit?: any, better?: any, part?: any, level?: any): string {
  const [from, to] = [numbersFrom(before, "before"), numbersFrom(after, "after")];
  if (from.length === 0 || to.length === 0) throw new InputError("not-available", "reading of a change requires results before and after");
  const worthwhile = optionalNumber(singleFrom(smallestWorthwhile, "smallest worthwhile change"), "smallest worthwhile change", undefined);
  const change = individualChange(mean(from), mean(to), numberFrom(singleFrom(typicalError, "typical error"), "typical error"), {
    countBefore: from.length,
    countAfter: to.length,
    degreesOfFreedom: optionalNumber(singleFrom(degreesOfFreedom, "degrees of freedom"), "degrees of freedom", undefined),
    level: optionalNumber(singleFrom(level, "level"), "level", undefined),
    smallestWorthwhile: worthwhile,
  });
  return partOf(readingOfChange({ before: mean(from), after: mean(to), change, smallestWorthwhile: worthwhile }, printedFrom(quantity, unit, better)), part);
}

/**
 * Reading of a new session against the band of the person's own baseline, in careful words.
 * @customfunction READ_BASELINE
 * @param history Earlier session results, oldest first; blank and 0 are left out.
 * @param newResult The new result; it never counts in its own baseline.
 * @param [typicalError] Typical error of one session result, known from a group.
 * @param [degreesOfFreedom] Degrees of freedom of the typical error.
 * @param [sessions] How many of the last sessions count; all when left out.
 * @param [quantity] Name of the quantity, for the sentence.
 * @param [unit] Unit of the results, for the sentence.
 * @param [part] "all" (default), "verdict", "components", "number", "reading", "next" or "caution".
 * @param [level] Level of the band, such as 0.95 (default).
 * @returns The reading, or a part of it.
 */
export function readBaselineCell(history: any[][], newResult: any, typicalError?: any, degreesOfFreedom?: any, sessions?: any, quantity?: any, unit?: any, part?: any, level?: any): string {
  const band = baselineBand(numbersFrom(history, "baseline"), {
    typicalError: optionalNumber(singleFrom(typicalError, "typical error"), "typical error", undefined),
    degreesOfFreedom: optionalNumber(singleFrom(degreesOfFreedom, "degrees of freedom"), "degrees of freedom", undefined),
    sessions: optionalNumber(singleFrom(sessions, "sessions"), "sessions", undefined),
    level: optionalNumber(singleFrom(level, "level"), "level", undefined),
  });
  return partOf(readBaseline(numberFrom(singleFrom(newResult, "new result"), "new result"), band, printedFrom(quantity, unit)), part);
}

/**
 * Reading of a typical error against the smallest worthwhile and the minimal detectable change: usable for one person, for groups, or too noisy.
 * @customfunction READ_RELIABILITY
 * @param typicalError Typical error, in the unit of the quantity.
 * @param smallestWorthwhile Smallest worthwhile change, same unit.
 * @param minimalDetectable Minimal detectable change of one person, same unit.
 * @param [quantity] Name of the quantity, for the sentence.
 * @param [unit] Unit, for the sentence.
 * @param [part] "all" (default), "verdict", "components", "reading" or "next".
 * @returns The reading, or a part of it.
 */
export function readReliability(typicalError: any, smallestWorthwhile: any, minimalDetectable: any, quantity?: any, unit?: any, part?: any): string {
  const number = (value: unknown, what: string): number => numberFrom(singleFrom(value, what), what);
  return partOf(
    readingOfReliability(
      {
        typicalError: number(typicalError, "typical error"),
        smallestWorthwhile: number(smallestWorthwhile, "smallest worthwhile change"),
        minimalDetectable: number(minimalDetectable, "minimal detectable change"),
      },
      printedFrom(quantity, unit),
    ),
    part,
  );
}

/**
 * Reading of reactive strength: which of its parts, contact or height, holds it down.
 * @customfunction READ_REACTIVE_STRENGTH
 * @param rsi Reactive strength index.
 * @param height Jump height, in m.
 * @param contactTime Contact time, in s.
 * @param [heightTScore] T score of the height within the squad.
 * @param [indexTScore] T score of the index within the squad.
 * @param [n] Number of people in the squad.
 * @param [unit] "m/s" on the basis of height (default), "none" on that of flight time.
 * @param [fastContact] Longest contact of a fast stretch-shortening cycle, in s; 0.25 when left out.
 * @param [part] "all" (default), "verdict", "components", "reading" or "next".
 * @returns The reading, or a part of it.
 */
export function readReactiveStrength(rsi: any, height: any, contactTime: any, heightTScore?: any, indexTScore?: any, n?: any, unit?: any, fastContact?: any, part?: any): string {
  const given = (value: unknown, what: string): number | undefined => optionalNumber(singleFrom(value, what), what, undefined);
  const [heightT, indexT, count] = [given(heightTScore, "T score of the height"), given(indexTScore, "T score of the index"), given(n, "n")];
  if ([heightT, indexT, count].some((value) => value === undefined) && [heightT, indexT, count].some((value) => value !== undefined)) {
    throw new InputError("wrong-shape", "reading of reactive strength requires both T scores and the n of the squad, or none of them");
  }
  const printed = textFrom(singleFrom(unit, "unit"), "unit") ?? "m/s";
  return partOf(
    readingOfReactiveStrength(
      {
        rsi: numberFrom(singleFrom(rsi, "reactive strength index"), "reactive strength index"),
        unit: printed === "none" ? "" : printed,
        height: numberFrom(singleFrom(height, "jump height"), "jump height"),
        contactTime: numberFrom(singleFrom(contactTime, "contact time"), "contact time"),
        ...(heightT === undefined ? {} : { squad: { heightTScore: heightT, indexTScore: indexT!, n: count! } }),
      },
      given(fastContact, "fast contact"),
    ),
    part,
  );
}

/**
 * Reading of reactive strength over drop heights: a best height only where the gap exceeds what error alone would give.
 * @customfunction READ_DROP_PROFILE
 * @param heights Nominal drop heights, in m; one row a height.
 * @param rsi Reactive strength index at each height.
 * @param contactTimes Ground contact time at each height, in s.
 * @param [typicalError] Typical error of the index of one trial.
 * @param [counts] Trials behind each row; 1 when left out.
 * @param [jumpHeights] Jump height at each drop height, in m.
 * @param [measuredHeights] Height really dropped at each, in m.
 * @param [fastContact] Longest contact of a fast stretch-shortening cycle, in s; 0.25 when left out.
 * @param [part] "all" (default), "verdict", "components", "reading", "next" or "caution".
 * @returns The reading, or a part of it.
 */
export function readDropProfile(heights: any[][], rsi: any[][], contactTimes: any[][], typicalError?: any, counts?: any[][], jumpHeights?: any[][], measuredHeights?: any[][], fastContact?: any, part?: any): string {
  const [nominal, index, contact, count, jump, measured] = [heights, rsi, contactTimes, counts, jumpHeights, measuredHeights].map(columnFrom);
  if (index.length !== nominal.length || contact.length !== nominal.length || [count, jump, measured].some((column) => column.length > 0 && column.length !== nominal.length)) {
    throw new InputError("wrong-shape", "drop profile requires ranges with one cell for each drop height");
  }
  const limit = optionalNumber(singleFrom(fastContact, "fast contact"), "fast contact", undefined);
  const points = nominal.flatMap((height, i) =>
    isGiven(height) || isGiven(index[i]) || isGiven(contact[i])
      ? [{
          nominalHeight: numberFrom(height, "drop profile: height"),
          rsi: numberFrom(index[i], "drop profile: index"),
          contactTime: numberFrom(contact[i], "drop profile: contact time"),
          count: optionalNumber(count[i], "drop profile: count", undefined),
          height: optionalNumber(jump[i], "drop profile: jump height", undefined),
          measuredHeight: optionalNumber(measured[i], "drop profile: measured height", undefined),
        }]
      : [],
  );
  const profile = dropHeightProfile(points, { typicalError: optionalNumber(singleFrom(typicalError, "typical error"), "typical error", undefined), fastContact: limit });
  return partOf(readingOfDropProfile(profile, limit), part);
}

/**
 * Reading of a force-velocity line from loaded jumps: points and limits, and no verdict, since the slope is poorly reliable.
 * @customfunction READ_LOAD_PROFILE
 * @param loads External loads, in kg; 0 for the jump without load.
 * @param heights Jump height at each load, in m.
 * @param mass Body mass, in kg.
 * @param pushOff Push-off distance, in m.
 * @param [part] "all" (default), "verdict", "components", "number", "reading", "next" or "caution".
 * @param [level] Level of the limits, such as 0.95 (default).
 * @param [g] Gravity, in m/s²; 9.80665 when left out.
 * @returns The reading, or a part of it.
 */
export function readLoadProfile(loads: any[][], heights: any[][], mass: any, pushOff: any, part?: any, level?: any, g?: any): string {
  const [load, height] = [columnFrom(loads), columnFrom(heights)];
  if (load.length !== height.length) throw new InputError("wrong-shape", "load profile requires one height for each load");
  const filled = height.flatMap((value, i) => (isGiven(value) ? [i] : []));
  const profile = loadProfile(
    filled.map((i) => optionalNumber(load[i], "load profile: load", 0)),
    filled.map((i) => numberFrom(height[i], "load profile: height")),
    numberFrom(singleFrom(mass, "body mass"), "body mass"),
    numberFrom(singleFrom(pushOff, "push-off distance"), "push-off distance"),
    optionalNumber(singleFrom(g, "gravity"), "gravity", undefined),
    optionalNumber(singleFrom(level, "level"), "level", undefined),
  );
  return partOf(readingOfLoadProfile(profile), part);
}

const PARTS = ["all", "verdict", "components", "number", "reading", "next", "caution"] as const;

/** The whole reading, its verdict in a word, or the parts of one role. */
function partOf(reading: Reading, part: unknown): string {
  const wanted = optionalWord(singleFrom(part, "part"), "reading", PARTS, "all");
  if (wanted === "all") return reading.text;
  if (wanted === "verdict") return reading.verdictWord;
  return reading.parts.filter(({ role }) => role === wanted).map(({ text }) => text).join(" ");
}

function printedFrom(quantity: unknown, unit: unknown, better?: unknown): Printed {
  return {
    name: textFrom(singleFrom(quantity, "quantity"), "quantity") ?? "Result",
    unit: textFrom(singleFrom(unit, "unit"), "unit") ?? "",
    better: optionalWord(singleFrom(better, "better"), "better", ["higher", "lower", "neither"], "neither"),
  };
}

function cutsFrom(cuts: unknown): Cuts | undefined {
  const values = numbersFrom(cuts, "cuts");
  if (values.length === 0) return undefined;
  if (values.length !== 2 || values[0] >= values[1]) throw new InputError("wrong-shape", "cuts of a ratio requires two cells, the lower one first");
  return { low: values[0], high: values[1] };
}
