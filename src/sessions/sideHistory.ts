import { requireCount, requireAllFinite } from "../guards.ts";

/** How steady the higher side was over sessions. */
export interface SideHistory {
  /** Side of the latest session; `neither` where the sides were equal. */
  readonly side: "left" | "right" | "neither";
  /** Sessions looked at: the last ones. */
  readonly sessions: number;
  /** Of these, how many had the side of the latest one. */
  readonly sameSide: number;
  /** Latest sessions in a row with that side. */
  readonly inARow: number;
  /** Mean of the signed percentages: sizes without sign would not average out. */
  readonly mean: number;
}

/**
 * How many of the last sessions had the same side higher as the latest one.
 *
 * The higher side changes from session to session in many healthy people.
 *
 * @param signed Signed percentages by session, oldest first, positive when left is higher; at least one.
 * @param last Sessions to look at, no unit.
 * @returns Side and counts, no unit; mean in %.
 * @throws {InputError} `not-a-number` if a value is not finite.
 * @throws {InputError} `out-of-range` without a session.
 * @see Afonso et al. (2022).
 */
export function sideHistory(signed: readonly number[], last: number = 5): SideHistory {
  requireAllFinite("side over sessions", signed);
  requireCount("side over sessions", "the number of sessions", last, 1);
  requireCount("side over sessions", "the number of results", signed.length, 1);
  const used = signed.slice(-last).map(Math.sign);
  const latest = used[used.length - 1];
  let inARow = 0;
  while (inARow < used.length && used[used.length - 1 - inARow] === latest) inARow++;
  return {
    side: latest > 0 ? "left" : latest < 0 ? "right" : "neither",
    sessions: used.length,
    sameSide: used.filter((sign) => sign === latest).length,
    inARow,
    mean: signed.slice(-last).reduce((sum, value) => sum + value, 0) / used.length,
  };
}
