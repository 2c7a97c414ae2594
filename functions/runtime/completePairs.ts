import { InputError } from "../../src/errors.ts";
import { isGiven, numberFrom, rowsFrom } from "./cells.ts";

/** Trials in which both sides are given. */
export function completePairs(left: unknown, right: unknown): [number[], number[]] {
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
