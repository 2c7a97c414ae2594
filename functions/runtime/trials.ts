import { InputError } from "../../src/errors.ts";
import type { AsymmetryDesign } from "../../src/statistics/asymmetryVerdict.ts";
import { isGiven, numberFrom, numbersFrom, optionalNumber, rowsFrom, singleFrom } from "./cells.ts";

/** A single result, or the mean of a range with their number. */
export function meanAndCount(range: unknown, count: unknown, what: string): { mean: number; count: number } {
  const values = numbersFrom(range, what);
  const stated = optionalNumber(singleFrom(count, `count ${what}`), `count ${what}`, undefined);
  if (values.length === 0) throw new InputError("not-available", `change requires a result ${what}`);
  if (stated !== undefined && values.length > 1) throw new InputError("wrong-shape", `change requires either a range of results or their mean with a count ${what}, not both`);
  return { mean: values.reduce((sum, value) => sum + value, 0) / values.length, count: stated ?? values.length };
}

/** Results of both sides: of the same trials in a bilateral design, separate lists otherwise. */
export function sidesFrom(left: unknown, right: unknown, design: AsymmetryDesign): [left: number[], right: number[]] {
  return design === "bilateral" ? completePairs(left, right) : [numbersFrom(left, "left trials"), numbersFrom(right, "right trials")];
}

/** Trials in which both sides are given. */
function completePairs(left: unknown, right: unknown): [number[], number[]] {
  const [a, b] = [rowsFrom(left).flat(), rowsFrom(right).flat()];
  if (a.length !== b.length) throw new InputError("wrong-shape", "asymmetry verdict of bilateral trials requires left and right of the same trials");
  const pairs: [number[], number[]] = [[], []];
  a.forEach((value, i) => {
    if (!isGiven(value) || !isGiven(b[i])) return;
    pairs[0].push(numberFrom(value, "left trials"));
    pairs[1].push(numberFrom(b[i], "right trials"));
  });
  return pairs;
}
