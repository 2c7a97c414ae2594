import { InputError } from "../errors.ts";
import { pooledTypicalError } from "../statistics/pooledTypicalError.ts";
import type { PooledTypicalError } from "../statistics/pooledTypicalError.ts";
import { typicalError } from "../statistics/typicalError.ts";
import type { TypicalError } from "../statistics/typicalError.ts";
import { sessionValue } from "./sessionValue.ts";
import type { SessionChoice } from "./sessionValue.ts";

/** A valid trial: who, which session, which value. All of one protocol and one metric. */
export interface TrialRecord {
  readonly person: string;
  /** Session of the person, for instance its date; sessions are taken in the order in which they first appear. */
  readonly session: string;
  readonly value: number;
}

/** Typical errors that a squad's own trials give. */
export interface TypicalErrors {
  /** Error of one trial within a day, from everybody; absent where nobody has two trials in a session. */
  readonly squad?: PooledTypicalError;
  /** The same from each person's own trials; people without two trials in a session are absent. */
  readonly people: ReadonlyMap<string, PooledTypicalError>;
  /** Error of a session value between days, from people with two or more sessions; absent where fewer than two people have them. */
  readonly betweenSessions?: TypicalError;
}

/**
 * Typical errors from a squad's own repeated trials: of a trial within a day, and of a session value between days.
 *
 * The error between days holds the error within a day, the days themselves and any true
 * change beside the common one: use sessions a few days apart, without a change of training.
 * It is the one for a change over days; averaging more trials a day does not remove it.
 * A person's own error rests on few trials; the limits say how few.
 *
 * @param trials Valid trials of one metric and one protocol, in the unit of the metric.
 * @param choice How trials become the value of a session, no unit.
 * @param better Direction of the metric, for the best of a session, no unit.
 * @param form `raw` in the unit, or `log` in %, no unit.
 * @returns Errors, in the unit of the metric (`raw`) or in % (`log`).
 * @throws {InputError} `not-a-number` if a value is not finite.
 * @throws {InputError} `out-of-range` if form `log` meets numbers that are not above zero.
 * @see Hopkins (2000).
 */
export function typicalErrorsFromTrials(
  trials: readonly TrialRecord[],
  choice: SessionChoice,
  better: "higher" | "lower" | "neither" = "higher",
  form: "raw" | "log" = "raw",
): TypicalErrors {
  const people = new Map<string, Map<string, number[]>>();
  for (const { person, session, value } of trials) {
    const sessions = people.get(person) ?? new Map<string, number[]>();
    people.set(person, sessions);
    const values = sessions.get(session) ?? [];
    sessions.set(session, values);
    values.push(value);
  }
  const groups = [...people.values()].flatMap((sessions) => [...sessions.values()]);
  const own = new Map<string, PooledTypicalError>();
  for (const [person, sessions] of people) {
    const error = whereAvailable(() => pooledTypicalError([...sessions.values()], form));
    if (error !== undefined) own.set(person, error);
  }
  const table = [...people.values()].map((sessions) => [...sessions.values()].map((values) => sessionValue(values, choice, better).value));
  return {
    squad: whereAvailable(() => pooledTypicalError(groups, form)),
    people: own,
    betweenSessions: whereAvailable(() => typicalError(table, form)),
  };
}

/** The result, or nothing where the trials cannot give it. */
function whereAvailable<T>(make: () => T): T | undefined {
  try {
    return make();
  } catch (error) {
    if (error instanceof InputError && (error.code === "not-available" || error.code === "wrong-shape")) return undefined;
    throw error;
  }
}
