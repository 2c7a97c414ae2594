import { InputError } from "../errors.ts";
import { requireAboveZero } from "../guards.ts";
import { normalQuantile } from "../statistics/distributions.ts";
import { mean, standardDeviation } from "../statistics/moments.ts";
import { tScore } from "../statistics/tScore.ts";

/** One person of a squad. */
export interface SquadMember {
  readonly name: string;
  /** Session value, in the unit of the metric; absent where there is none. */
  readonly value?: number;
}

/** A person in the squad table. */
export interface SquadRow {
  readonly name: string;
  readonly value: number;
  readonly tScore: number;
  /** First place this person may hold: one more than the people who are better by more than the margin. */
  readonly placeFrom?: number;
  /** Last place this person may hold. */
  readonly placeTo?: number;
}

/** A squad with its size stated. */
export interface SquadTable {
  /** Best first. */
  readonly rows: readonly SquadRow[];
  readonly n: number;
  /** Names without a value. */
  readonly missing: readonly string[];
  readonly mean: number;
  readonly sd: number;
  /** Difference below which two people are not told apart; absent without a typical error, and then nobody has a place. */
  readonly margin?: number;
}

/**
 * Squad table with T scores, and places only as far as the typical error allows.
 *
 * Two people are told apart where they differ by more than `1.96 sqrt(2) typicalError`; a place is
 * given as a range over all who cannot be told apart.
 *
 * @param members People with their session values, in the unit of the metric.
 * @param better Direction of the metric, no unit.
 * @param typicalError Typical error of a session value, in the unit of the metric; absent: no places.
 * @returns Rows, mean, standard deviation and margin, in the unit of the metric; T scores, no unit.
 * @throws {InputError} `not-available` with fewer than two values or none that differ.
 * @throws {InputError} `out-of-range` if the typical error is not positive.
 * @see Hopkins (2000); T scores are common practice.
 */
export function squadTable(members: readonly SquadMember[], better: "higher" | "lower", typicalError?: number): SquadTable {
  const there = members.filter((member): member is SquadMember & { value: number } => member.value !== undefined);
  const values = there.map((member) => member.value);
  if (values.length < 2) throw new InputError("not-available", "squad table requires at least two people with a value");
  if (typicalError !== undefined) requireAboveZero("squad table", "a typical error", typicalError);
  const margin = typicalError === undefined ? undefined : normalQuantile(0.975) * Math.SQRT2 * typicalError;
  const sign = better === "lower" ? -1 : 1;
  const rows = there
    .map(({ name, value }): SquadRow => {
      const row = { name, value, tScore: tScore(value, values, better) };
      if (margin === undefined) return row;
      const ahead = values.filter((other) => sign * (other - value) > margin).length;
      const behind = values.filter((other) => sign * (value - other) > margin).length;
      return { ...row, placeFrom: ahead + 1, placeTo: values.length - behind };
    })
    .sort((a, b) => b.tScore - a.tScore);
  return {
    rows,
    n: values.length,
    missing: members.filter((member) => member.value === undefined).map((member) => member.name),
    mean: mean(values),
    sd: standardDeviation(values),
    margin,
  };
}
