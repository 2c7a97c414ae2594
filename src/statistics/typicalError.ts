import { InputError } from "../errors.ts";
import { requireLevel } from "../guards.ts";
import { errorLimits } from "./errorLimits.ts";
import { mean, sumOfSquares } from "./moments.ts";
import { present, requireTable, tableUse } from "./RepeatTable.ts";
import type { RepeatTable, TableUse } from "./RepeatTable.ts";
import { residualMeanSquare } from "./residualMeanSquare.ts";

/** `raw` in the unit of the quantity; the others in %: from logarithms, over the grand mean, or root mean square of each person's own variation. */
export const TYPICAL_ERROR_FORMS = ["raw", "log", "cv", "rms"] as const;
export type TypicalErrorForm = (typeof TYPICAL_ERROR_FORMS)[number];

/** Typical error with its confidence limits. */
export interface TypicalError extends TableUse {
  readonly value: number;
  readonly low: number;
  readonly high: number;
  readonly form: TypicalErrorForm;
  readonly degreesOfFreedom: number;
  readonly level: number;
}

/**
 * Typical error of measurement: root of the residual mean square of people and trials (two trials: `SD(differences) / sqrt(2)`).
 *
 * Limits: `value * sqrt(df / chi^2)`. Form `log` works on 100 ln(x) and gives
 * `100 (exp(error / 100) - 1)`; `cv` divides by the grand mean; `rms` is the root mean
 * square of each person's coefficient of variation, which keeps a trend over trials in.
 * Gaps: every person with at least two numbers is used, by least squares; counts are returned.
 *
 * @param table Persons in rows, trials or days in columns, gaps as undefined, in the unit of the quantity.
 * @param form Form of the error, no unit.
 * @param level Confidence level of the limits, no unit; between 0 and 1.
 * @returns Error and limits, in the unit of the quantity (`raw`) or in % (other forms), with the counts.
 * @throws {InputError} `wrong-shape` if there are fewer than two columns.
 * @throws {InputError} `not-available` if fewer than two people have two numbers.
 * @throws {InputError} `out-of-range` if a percentage form meets numbers that are not above zero.
 * @see Hopkins (2000); Atkinson & Nevill (1998).
 */
export function typicalError(table: RepeatTable, form: TypicalErrorForm = "raw", level: number = 0.95): TypicalError {
  const columns = requireTable("typical error", table);
  requireLevel("typical error", level);
  if (!TYPICAL_ERROR_FORMS.includes(form)) {
    throw new InputError("unknown-name", `typical error requires one of the forms ${TYPICAL_ERROR_FORMS.join(", ")}`);
  }
  const rows = table.map(present).filter((row) => row.length > 1);
  if (form !== "raw" && rows.some((row) => row.some((value) => value <= 0))) {
    throw new InputError("out-of-range", "typical error in per cent requires numbers above zero");
  }
  const { error, degreesOfFreedom } = form === "rms" ? rootMeanSquareVariation(rows) : additive(table, columns, form);
  const limits = errorLimits(error, degreesOfFreedom, level);
  const printed = (value: number): number => {
    if (form === "log") return 100 * (Math.exp(value / 100) - 1);
    return form === "cv" ? (100 * value) / mean(rows.flat()) : value;
  };
  return {
    value: printed(error),
    low: printed(limits.low),
    high: printed(limits.high),
    form,
    degreesOfFreedom,
    level,
    ...tableUse(table, columns, rows),
  };
}

function additive(table: RepeatTable, columns: number, form: TypicalErrorForm): { error: number; degreesOfFreedom: number } {
  const scaled =
    form === "log" ? table.map((row) => row.map((value) => (value === undefined || value <= 0 ? undefined : 100 * Math.log(value)))) : table;
  const { meanSquare, degreesOfFreedom } = residualMeanSquare(scaled, columns);
  return { error: Math.sqrt(meanSquare), degreesOfFreedom };
}

function rootMeanSquareVariation(rows: readonly (readonly number[])[]): { error: number; degreesOfFreedom: number } {
  if (rows.length === 0) throw new InputError("not-available", "typical error requires at least one person with two or more trials");
  let sum = 0;
  let degreesOfFreedom = 0;
  for (const row of rows) {
    sum += (10000 * sumOfSquares(row)) / (row.length - 1) / mean(row) ** 2;
    degreesOfFreedom += row.length - 1;
  }
  return { error: Math.sqrt(sum / rows.length), degreesOfFreedom };
}
