import { InputError } from "../src/errors.ts";
import { armSwingGain } from "../src/metrics/armSwingGain.ts";
import { asymmetry as asymmetryByFormula, type Side } from "../src/metrics/asymmetry.ts";
import { bilateralIndex as bilateralIndexOf } from "../src/metrics/bilateralIndex.ts";
import { dynamicStrengthIndex } from "../src/metrics/dynamicStrengthIndex.ts";
import { eccentricUtilisationRatio } from "../src/metrics/eccentricUtilisationRatio.ts";
import { prestretchAugmentation as prestretchAugmentationOf } from "../src/metrics/prestretchAugmentation.ts";
import { formatProtocol } from "../src/protocols/formatProtocol.ts";
import { parseProtocol } from "../src/protocols/parseProtocol.ts";
import { INSTRUMENTS, instrumentOf, likeText } from "../src/sessions/likeText.ts";
import { pairingReason, type Combination } from "../src/sessions/pairingReason.ts";
import { RATIO_METHODS, ratioInterval as limitsOfRatio, type RatioMethod } from "../src/statistics/ratioInterval.ts";
import { TIMES_MARK, TRACE_MARK } from "../src/trace/packFormat.ts";
import { cellByCell, type CellArgument } from "./runtime/cellByCell.ts";
import { optionalWord, quoted } from "./runtime/cells.ts";

/**
 * Protocol text of a trial in its canonical order, for instance "DJ drop=0.30 arms=hips". Like protocols are equal texts.
 * @customfunction PROTOCOL
 * @param test CMJ, SJ, DJ, RH or IMTP; a cell or a range.
 * @param [arms] "hips" or "swing".
 * @param [limb] "both", "left" or "right".
 * @param [dropHeight] Nominal drop height, in m; drop jumps only.
 * @param [load] External load, in kg.
 * @returns Protocol text.
 */
export function protocol(test: any[][], arms?: any[][], limb?: any[][], dropHeight?: any[][], load?: any[][]): any[][] {
  return cellByCell(
    "protocol",
    [
      { name: "test", value: test, text: true },
      { name: "arms", value: arms, optional: true, text: true },
      { name: "limb", value: limb, optional: true, text: true },
      { name: "drop height", value: dropHeight, optional: true },
      { name: "load", value: load, optional: true },
    ],
    (name: unknown, armsWord?: unknown, limbWord?: unknown, drop?: number, mass?: number) => {
      const words = [String(name)];
      if (drop !== undefined) words.push(`drop=${drop}`);
      if (armsWord !== undefined) words.push(`arms=${String(armsWord)}`);
      if (limbWord !== undefined) words.push(`limb=${String(limbWord)}`);
      if (mass !== undefined) words.push(`load=${mass}`);
      return formatProtocol(parseProtocol(words.join(" ")));
    },
  );
}

/**
 * Text that is equal for trials that may be averaged and compared: both limbs and no load are not written, and the times of a mat or a video stand apart from force plates. Group trials by it.
 * @customfunction LIKE_PROTOCOL
 * @param protocol Protocol text; a cell or a range.
 * @param [instrument] "plate" (default), "mat", "video", or the trace cell of the trial.
 * @returns Text such as "CMJ arms=hips" or "CMJ arms=hips by=mat".
 */
export function likeProtocol(protocol: any[][], instrument?: any[][]): any[][] {
  return cellByCell(
    "like protocol",
    [{ name: "protocol", value: protocol, text: true }, { name: "instrument", value: instrument, optional: true, text: true }],
    (text: unknown, by?: unknown) => {
      const word = by === undefined ? "plate" : String(by);
      const packed = [TRACE_MARK, TIMES_MARK].some((mark) => word.startsWith(`${mark} `));
      return likeText(parseProtocol(String(text)), packed ? instrumentOf(word) : optionalWord(word, "like protocol", INSTRUMENTS, "plate"));
    },
  );
}

/**
 * Eccentric utilisation ratio: countermovement jump over squat jump, by the same height method. Read it with its two parts.
 * @customfunction EUR
 * @param cmj Countermovement jump result; a cell or a range.
 * @param sj Squat jump result of the same quantity and unit; a cell or a range.
 * @param [cmjProtocol] Protocol text of the countermovement jump.
 * @param [sjProtocol] Protocol text of the squat jump; unlike protocols give #N/A with the reason.
 * @returns Ratio, no unit.
 */
export function eur(cmj: any[][], sj: any[][], cmjProtocol?: any[][], sjProtocol?: any[][]): any[][] {
  return cellByCell(
    "eccentric utilisation ratio",
    [{ name: "countermovement jump", value: cmj }, { name: "squat jump", value: sj }, ...pair("countermovement jump", cmjProtocol, "squat jump", sjProtocol)],
    (a: number, b: number, first?: unknown, second?: unknown) => {
      refuseUnlike("eccentric utilisation ratio", "eccentricUtilisation", first, second);
      return eccentricUtilisationRatio(a, b);
    },
  );
}

/**
 * Pre-stretch augmentation, in %: what the countermovement adds to the squat jump, (CMJ - SJ) / SJ × 100.
 * @customfunction PRESTRETCH_AUGMENTATION
 * @param cmj Countermovement jump result; a cell or a range.
 * @param sj Squat jump result of the same quantity and unit; a cell or a range.
 * @param [cmjProtocol] Protocol text of the countermovement jump.
 * @param [sjProtocol] Protocol text of the squat jump; unlike protocols give #N/A with the reason.
 * @returns Augmentation, in %.
 */
export function prestretchAugmentation(cmj: any[][], sj: any[][], cmjProtocol?: any[][], sjProtocol?: any[][]): any[][] {
  return cellByCell(
    "pre-stretch augmentation",
    [{ name: "countermovement jump", value: cmj }, { name: "squat jump", value: sj }, ...pair("countermovement jump", cmjProtocol, "squat jump", sjProtocol)],
    (a: number, b: number, first?: unknown, second?: unknown) => {
      refuseUnlike("pre-stretch augmentation", "prestretchAugmentation", first, second);
      return prestretchAugmentationOf(a, b);
    },
  );
}

/**
 * Dynamic strength index: peak force of a jump over peak force of the isometric pull; gross over gross, or both net of body weight when it is given.
 * @customfunction DSI
 * @param ballisticPeak Peak gross force of the jump, in N; a cell or a range.
 * @param isometricPeak Peak gross force of the isometric pull, in N; a cell or a range.
 * @param [bodyWeight] Body weight, in N: subtracted from both, for the net index.
 * @param [jumpProtocol] Protocol text of the jump.
 * @param [pullProtocol] Protocol text of the pull; unlike protocols give #N/A with the reason.
 * @returns Index, no unit.
 */
export function dsi(ballisticPeak: any[][], isometricPeak: any[][], bodyWeight?: any[][], jumpProtocol?: any[][], pullProtocol?: any[][]): any[][] {
  return cellByCell(
    "dynamic strength index",
    [
      { name: "peak force of the jump", value: ballisticPeak },
      { name: "peak force of the pull", value: isometricPeak },
      { name: "body weight", value: bodyWeight, optional: true },
      ...pair("jump", jumpProtocol, "pull", pullProtocol),
    ],
    (jump: number, pull: number, weight?: number, first?: unknown, second?: unknown) => {
      refuseUnlike("dynamic strength index", "dynamicStrength", first, second);
      return dynamicStrengthIndex(jump, pull, weight);
    },
  );
}

/**
 * Arm-swing gain, in %: what the arms add to a jump, (with - without) / without × 100.
 * @customfunction ARM_SWING
 * @param withArms Result with arm swing; a cell or a range.
 * @param withoutArms Result with hands on hips, same quantity and unit; a cell or a range.
 * @param [withProtocol] Protocol text of the jump with arms.
 * @param [withoutProtocol] Protocol text of the jump without arms; protocols that differ in more than the arms give #N/A with the reason.
 * @returns Gain, in %.
 */
export function armSwing(withArms: any[][], withoutArms: any[][], withProtocol?: any[][], withoutProtocol?: any[][]): any[][] {
  return cellByCell(
    "arm-swing gain",
    [{ name: "result with arms", value: withArms }, { name: "result without arms", value: withoutArms }, ...pair("jump with arms", withProtocol, "jump without arms", withoutProtocol)],
    (a: number, b: number, first?: unknown, second?: unknown) => {
      refuseUnlike("arm-swing gain", "armSwing", first, second);
      return armSwingGain(a, b);
    },
  );
}

/**
 * Bilateral index, in %: 100 × both / (left + right) - 100; negative is a deficit. Forces and powers add up, heights do not.
 * @customfunction BILATERAL_INDEX
 * @param both Result with both limbs; a cell or a range.
 * @param left Result of the left limb alone, same quantity and unit; a cell or a range.
 * @param right Result of the right limb alone; a cell or a range.
 * @param [bothProtocol] Protocol text of the test with both limbs.
 * @param [leftProtocol] Protocol text of the left limb.
 * @param [rightProtocol] Protocol text of the right limb; protocols that differ in more than the limb give #N/A with the reason.
 * @returns Bilateral index, in %.
 */
export function bilateralIndex(both: any[][], left: any[][], right: any[][], bothProtocol?: any[][], leftProtocol?: any[][], rightProtocol?: any[][]): any[][] {
  return cellByCell(
    "bilateral index",
    [
      { name: "both limbs", value: both },
      { name: "left limb", value: left },
      { name: "right limb", value: right },
      ...pair("both limbs", bothProtocol, "left limb", leftProtocol),
      { name: "protocol of the right limb", value: rightProtocol, optional: true, text: true },
    ],
    (b: number, l: number, r: number, first?: unknown, second?: unknown, third?: unknown) => {
      refuseUnlike("bilateral index", "bilateral", first, second, third);
      return bilateralIndexOf(b, l, r);
    },
  );
}

/**
 * Limits of a ratio a / b from the standard uncertainties of its parts: lower and upper, side by side.
 * @customfunction RATIO_INTERVAL
 * @param a Numerator; a cell or a column.
 * @param uA Standard uncertainty of the numerator, same unit.
 * @param b Denominator; a cell or a column.
 * @param uB Standard uncertainty of the denominator, same unit.
 * @param [correlation] Correlation of the two errors, from -1 to 1; 0 when left out.
 * @param [level] Level of the limits, such as 0.95 (default).
 * @param [method] "fieller" (default), "log" or "delta".
 * @param [degreesOfFreedom] Degrees of freedom of the uncertainties, k - 1 for means of k trials; without them they are taken as exactly known, too narrow for few trials.
 * @returns Lower and upper limit, no unit.
 */
export function ratioInterval(a: any[][], uA: any[][], b: any[][], uB: any[][], correlation?: any[][], level?: any[][], method?: any[][], degreesOfFreedom?: any[][]): any[][] {
  const limit = (which: "low" | "high") =>
    cellByCell(
      "limits of a ratio",
      [
        { name: "numerator", value: a },
        { name: "uncertainty of the numerator", value: uA },
        { name: "denominator", value: b },
        { name: "uncertainty of the denominator", value: uB },
        { name: "correlation", value: correlation, optional: true, zero: "counts" },
        { name: "level", value: level, optional: true },
        { name: "method", value: method, optional: true, text: true },
        { name: "degrees of freedom", value: degreesOfFreedom, optional: true },
      ],
      (x: number, ux: number, y: number, uy: number, r?: number, p?: number, name?: unknown, df?: number) =>
        limitsOfRatio(x, ux, y, uy, { correlation: r, level: p, degreesOfFreedom: df, method: optionalWord(name, "limits of a ratio", RATIO_METHODS, "fieller") satisfies RatioMethod })[which],
    );
  const low = limit("low");
  const high = limit("high");
  if (low[0].length > 1) throw new InputError("wrong-shape", "limits of a ratio requires single cells or columns");
  return low.map((row, r) => [row[0], high[r][0]]);
}

/**
 * Difference between left and right by a named formula, in %, positive when left is higher. Formulas give different numbers for the same pair: print the name with the value.
 * @customfunction ASYMMETRY
 * @param left Result of the left side; a cell or a range.
 * @param right Result of the right side, same unit; a cell or a range.
 * @param [formula] Name of the formula; symmetryIndex, 100 (L - R) / (L + R), when left out.
 * @param [dominant] "left" or "right", for formulas that use a dominant side; the larger side when left out.
 * @returns Percentage by the formula, in %.
 */
export function asymmetry(left: any[][], right: any[][], formula?: any[][], dominant?: any[][]): any[][] {
  return cellByCell(
    "asymmetry",
    [
      { name: "left", value: left },
      { name: "right", value: right },
      { name: "formula", value: formula, optional: true, text: true },
      { name: "dominant side", value: dominant, optional: true, text: true },
    ],
    (l: number, r: number, name?: unknown, side?: unknown) => asymmetryByFormula(l, r, name === undefined ? undefined : String(name), side === undefined ? undefined : sideFrom(side)),
  );
}

function sideFrom(value: unknown): Side {
  const word = String(value).toLowerCase();
  if (word === "left" || word === "right") return word;
  throw new InputError("unknown-name", `asymmetry requires the dominant side "left" or "right", not ${quoted(value)}`);
}

function pair(first: string, firstProtocol: unknown, second: string, secondProtocol: unknown): CellArgument[] {
  return [
    { name: `protocol of the ${first}`, value: firstProtocol, optional: true, text: true },
    { name: `protocol of the ${second}`, value: secondProtocol, optional: true, text: true },
  ];
}

/** Refuses a combination of unlike protocols with the reason; protocols that were not stated are not compared. */
function refuseUnlike(what: string, kind: Combination, ...protocols: readonly unknown[]): void {
  const reason = pairingReason(kind, protocols.map((text) => (text === undefined ? undefined : parseProtocol(String(text)))));
  if (reason !== undefined) throw new InputError("not-available", `${what} requires like protocols: ${reason}`);
}
