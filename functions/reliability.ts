import { InputError } from "../src/errors.ts";
import { betweenPeopleSd } from "../src/statistics/betweenPeopleSd.ts";
import { iccFormByName, intraclassCorrelation } from "../src/statistics/intraclassCorrelation.ts";
import { limitsOfAgreement as limitsOfAgreementOf } from "../src/statistics/limitsOfAgreement.ts";
import { minimalDetectableChange } from "../src/statistics/minimalDetectableChange.ts";
import { smallestWorthwhileChange } from "../src/statistics/smallestWorthwhileChange.ts";
import { standardErrorOfMeasurement } from "../src/statistics/standardErrorOfMeasurement.ts";
import { TYPICAL_ERROR_FORMS, typicalError as typicalErrorOf } from "../src/statistics/typicalError.ts";
import { cellByCell } from "./runtime/cellByCell.ts";
import { optionalNumber, optionalWord, singleFrom, tableFrom, textFrom } from "./runtime/cells.ts";
import { orSetting } from "./runtime/orSetting.ts";
import { pickWhat } from "./runtime/pickWhat.ts";

/**
 * Typical error from repeated results, with its confidence limits: people in rows, trials or days in columns. Gaps are allowed and counted.
 * @customfunction TYPICAL_ERROR
 * @param table People in rows, at least two trials or days in columns; blank and 0 are gaps.
 * @param [form] "raw" (default, in the unit), "log" (CV from logarithms, %), "cv" (share of the mean, %) or "rms" (root mean square of individual CVs, %); or the Settings range.
 * @param [what] "value" (default), "low", "high", "people", "gaps" …, or "table" for all of them.
 * @param [level] Level of the limits, such as 0.95 (default).
 * @returns Typical error, in the unit of the results or in %.
 */
export function typicalError(table: any[][], form?: any[][], what?: any, level?: any): any[][] {
  const chosen = optionalWord(singleFrom(orSetting(form, "typical-error-form"), "form"), "typical error", TYPICAL_ERROR_FORMS, "raw");
  const found = typicalErrorOf(tableFrom(table, "typical error"), chosen, levelFrom(level, 0.95));
  const { value, low, high, level: used, degreesOfFreedom, people, trials, values, gaps, leftOut } = found;
  return pickWhat({ value, low, high, level: used, form: chosen, degreesOfFreedom, people, trials, values, gaps, leftOut }, what, "value");
}

/**
 * Intraclass correlation in one of the six forms, with its confidence limits: people in rows, trials or days in columns.
 * @customfunction ICC
 * @param table People in rows, at least two trials or days in columns; blank and 0 are gaps.
 * @param [form] "1,1", "2,1", "3,1" (default), "1,k", "2,k" or "3,k"; or the Settings range.
 * @param [what] "value" (default), "low", "high" …, or "table" for all of them.
 * @param [level] Level of the limits, such as 0.95 (default).
 * @returns Intraclass correlation, no unit.
 */
export function icc(table: any[][], form?: any[][], what?: any, level?: any): any[][] {
  const name = textFrom(singleFrom(orSetting(form, "icc-form"), "form"), "form");
  const found = intraclassCorrelation(tableFrom(table, "intraclass correlation"), name === undefined ? undefined : iccFormByName(name), levelFrom(level, 0.95));
  const { value, low, high, level: used, form: chosen, meanSquares } = found;
  const { people, trials, between, within, trialsSquare, residual } = meanSquares;
  return pickWhat({ value, low, high, level: used, form: chosen, people, trials, betweenMeanSquare: between, withinMeanSquare: within, trialsMeanSquare: trialsSquare, residualMeanSquare: residual }, what, "value");
}

/**
 * Smallest worthwhile change: a share of the observed standard deviation between people.
 * @customfunction SWC
 * @param results One result for each person in a column, or people in rows and trials in columns; blank and 0 are gaps.
 * @param [factor] Share of the standard deviation; 0.2 when left out.
 * @returns Smallest worthwhile change, in the unit of the results.
 */
export function swc(results: any[][], factor?: any): number {
  const table = tableFrom(results, "smallest worthwhile change");
  // A single row of results is one result for each person as well.
  const people = table.length === 1 ? table[0].map((value) => [value]) : table;
  return smallestWorthwhileChange(betweenPeopleSd(people).value, optionalNumber(singleFrom(factor, "factor"), "factor", undefined));
}

/**
 * Standard error of measurement from a standard deviation between people and an intraclass correlation: SD × √(1 - ICC).
 * @customfunction SEM
 * @param sd Observed standard deviation between people; a cell or a range.
 * @param correlation Intraclass correlation, no unit.
 * @returns Standard error of measurement, in the unit of the standard deviation.
 */
export function sem(sd: any[][], correlation: any[][]): any[][] {
  return cellByCell(
    "standard error of measurement",
    [
      { name: "standard deviation", value: sd },
      { name: "intraclass correlation", value: correlation, zero: "counts" },
    ],
    standardErrorOfMeasurement,
  );
}

/**
 * Minimal detectable change of one person: the change that measurement error alone exceeds in only 5 % of cases at the level 0.95.
 * @customfunction MDC
 * @param typicalError Typical error (standard error of measurement) of one result; a cell or a range.
 * @param [level] Two-sided level, such as 0.95 (default) or 0.90; or the Settings range.
 * @param [countBefore] Results averaged before; 1 when left out.
 * @param [countAfter] Results averaged after; 1 when left out.
 * @param [degreesOfFreedom] Degrees of freedom of the typical error; without them it is taken as exactly known.
 * @returns Minimal detectable change, in the unit of the typical error.
 */
export function mdc(typicalError: any[][], level?: any[][], countBefore?: any[][], countAfter?: any[][], degreesOfFreedom?: any[][]): any[][] {
  return cellByCell(
    "minimal detectable change",
    [
      { name: "typical error", value: typicalError },
      { name: "level", value: levelOrSetting(level), optional: true },
      { name: "count before", value: countBefore, optional: true },
      { name: "count after", value: countAfter, optional: true },
      { name: "degrees of freedom", value: degreesOfFreedom, optional: true },
    ],
    (error: number, p?: number, before?: number, after?: number, freedom?: number) =>
      minimalDetectableChange(error, { level: p, countBefore: before, countAfter: after, degreesOfFreedom: freedom }),
  );
}

/**
 * Limits of agreement of two methods or days: mean difference (second minus first) and the limits around it. Pairs with a gap are left out and counted.
 * @customfunction LIMITS_OF_AGREEMENT
 * @param first Results by the first method; one column or row.
 * @param second Results by the second method, in the same order.
 * @param [method] "published" (default: 1.96 standard deviations) or "t" for a small number of pairs.
 * @param [what] "table" (default) for all, or one of "bias", "low", "high", "sd", "n" ….
 * @param [level] Level of the limits by "t", such as 0.95 (default).
 * @returns Bias and limits, in the unit of the results.
 */
export function limitsOfAgreement(first: any[][], second: any[][], method?: any, what?: any, level?: any): any[][] {
  const [a, b] = [listWithGaps(first), listWithGaps(second)];
  const chosen = optionalWord(singleFrom(method, "method"), "limits of agreement", ["published", "t"], "published");
  const { bias, low, high, sd, biasError, limitError, n, leftOut } = limitsOfAgreementOf(a, b, chosen, levelFrom(level, 0.95));
  return pickWhat({ bias, low, high, sd, biasError, limitError, n, leftOut, method: chosen }, what, "table");
}

/** A level, or that of the Settings range, which is in per cent. */
function levelOrSetting(level: unknown): unknown {
  const given = orSetting(level, "mdc-level");
  return given === level ? level : Number(given) / 100;
}

/** One column or row of results in which a gap keeps its place. */
function listWithGaps(range: unknown): (number | undefined)[] {
  const table = tableFrom(range, "limits of agreement");
  if (table.length > 1 && table.some((row) => row.length > 1)) throw new InputError("wrong-shape", "limits of agreement requires one column or row for each method");
  return table.flat();
}

function levelFrom(value: unknown, fallback: number): number {
  return optionalNumber(singleFrom(value, "level"), "level", fallback);
}
