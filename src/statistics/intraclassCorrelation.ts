import { InputError } from "../errors.ts";
import { requireLevel } from "../guards.ts";
import { nearestNames, plainName } from "../names.ts";
import { fQuantile } from "./distributions.ts";
import type { RepeatTable } from "./RepeatTable.ts";
import { twoWayMeanSquares } from "./twoWayMeanSquares.ts";
import type { TwoWayMeanSquares } from "./twoWayMeanSquares.ts";

/** Model 1 one-way, 2 two-way with absolute agreement, 3 two-way with consistency; one trial, or the mean of the k trials. */
export const ICC_FORMS = ["1,1", "2,1", "3,1", "1,k", "2,k", "3,k"] as const;
export type IccForm = (typeof ICC_FORMS)[number];

/** Intraclass correlation with its confidence limits and what it was made from. */
export interface IntraclassCorrelation {
  readonly value: number;
  readonly low: number;
  readonly high: number;
  readonly form: IccForm;
  readonly level: number;
  readonly meanSquares: TwoWayMeanSquares;
}

/** Names of the same forms in McGraw & Wong (1996), from memory. */
const ALIASES: Readonly<Record<string, IccForm>> = { "1": "1,1", c1: "3,1", a1: "2,1", ck: "3,k", ak: "2,k", k: "1,k" };

/** The form that a text names: `3,1`, `ICC(2,k)`, `A,1`, …; throws `unknown-name`. */
export function iccFormByName(text: string): IccForm {
  const plain = plainName(text).replace(/^icc/, "");
  const found = ICC_FORMS.find((form) => plainName(form) === plain) ?? (Object.hasOwn(ALIASES, plain) ? ALIASES[plain] : undefined);
  if (found) return found;
  throw new InputError("unknown-name", `intraclass correlation requires a form such as ${nearestNames(text, ICC_FORMS, 6).join("; ")}`);
}

/**
 * Intraclass correlation of people by trials in the six forms, with F-based limits.
 *
 * From mean squares B between people, W within people, J between trials, E residual:
 * (1,1) `(B - W) / (B + (k-1) W)`, (2,1) `(B - E) / (B + (k-1) E + k (J - E) / n)`,
 * (3,1) `(B - E) / (B + (k-1) E)`; for the mean of k (1,k) `(B - W) / B`,
 * (2,k) `(B - E) / (B + (J - E) / n)`, (3,k) `(B - E) / B`. Limits of (2,k) are those of
 * (2,1) stepped up by Spearman-Brown. People with a gap are left out and counted.
 * A wide squad gives a high value even where the typical error is large.
 *
 * @param table Persons in rows, trials in columns, gaps as undefined, in the unit of the quantity.
 * @param form Form, no unit.
 * @param level Confidence level of the limits, no unit; between 0 and 1.
 * @returns Correlation and limits, no unit, with the mean squares and counts.
 * @throws {InputError} `wrong-shape` if there are fewer than two columns.
 * @throws {InputError} `not-available` if fewer than two people are complete, or nobody differs from another.
 * @see Shrout & Fleiss (1979); McGraw & Wong (1996).
 */
export function intraclassCorrelation(table: RepeatTable, form: IccForm = "3,1", level: number = 0.95): IntraclassCorrelation {
  requireLevel("intraclass correlation", level);
  const meanSquares = twoWayMeanSquares(table);
  const { between: b, within: w, trialsSquare: j, residual: e, people: n, trials: k } = meanSquares;
  if (b === 0 && e === 0) throw new InputError("not-available", "intraclass correlation requires people whose results differ");
  const upper = (1 + level) / 2;
  const ofOne = (limit: number): number => limit;
  const ofMean = (limit: number): number => (k * limit) / (1 + (k - 1) * limit);
  const step = form.endsWith("k") ? ofMean : ofOne;
  const answer = (single: number, limits: readonly [number, number]): IntraclassCorrelation => {
    const [low, high] = limits.map(step);
    return { value: step(single), low, high, form, level, meanSquares };
  };
  switch (form) {
    case "1,1":
    case "1,k":
      return answer(fromRatio(b / w, k), ratioLimits(b, w, n - 1, n * (k - 1), upper, k));
    case "3,1":
    case "3,k":
      return answer(fromRatio(b / e, k), ratioLimits(b, e, n - 1, (n - 1) * (k - 1), upper, k));
    default:
      return answer(agreement(b, j, e, n, k), agreementLimits(b, j, e, n, k, upper));
  }
}

/** `(F - 1) / (F + k - 1)`; 1 where the error is zero. */
function fromRatio(ratio: number, k: number): number {
  return ratio === Infinity ? 1 : (ratio - 1) / (ratio + k - 1);
}

function ratioLimits(b: number, error: number, dfBetween: number, dfError: number, upper: number, k: number): [number, number] {
  const ratio = b / error;
  return [
    fromRatio(ratio / fQuantile(upper, dfBetween, dfError), k),
    fromRatio(ratio * fQuantile(upper, dfError, dfBetween), k),
  ];
}

function agreement(b: number, j: number, e: number, n: number, k: number): number {
  return (b - e) / (b + (k - 1) * e + (k * (j - e)) / n);
}

/** Satterthwaite degrees of freedom of the mixture of J and E, then the two F limits. */
function agreementLimits(b: number, j: number, e: number, n: number, k: number, upper: number): [number, number] {
  const r = agreement(b, j, e, n, k);
  const ofTrials = k * r * j;
  const ofResidual = (n * (1 + (k - 1) * r) - k * r) * e;
  if (ofTrials === 0 && ofResidual === 0) return [1, 1];
  const freedom = (ofTrials + ofResidual) ** 2 / (ofTrials ** 2 / (k - 1) + ofResidual ** 2 / ((n - 1) * (k - 1)));
  const mixture = k * j + (k * n - k - n) * e;
  const f1 = fQuantile(upper, n - 1, freedom);
  const f2 = fQuantile(upper, freedom, n - 1);
  return [(n * (b - f1 * e)) / (f1 * mixture + n * b), (n * (f2 * b - e)) / (mixture + n * f2 * b)];
}
