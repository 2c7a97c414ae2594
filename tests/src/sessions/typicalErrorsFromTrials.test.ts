import { describe, expect, test } from "vitest";
import { typicalErrorsFromTrials } from "../../../src/sessions/typicalErrorsFromTrials.ts";
import { pooledTypicalError } from "../../../src/statistics/pooledTypicalError.ts";
import { typicalError } from "../../../src/statistics/typicalError.ts";
import { normalFrom, seededRandom } from "../../support/seededRandom.ts";

const records = (person: string, session: string, ...values: number[]) => values.map((value) => Object.freeze({ person, session, value }));
const trials = Object.freeze([
  ...records("A", "1 May", 38, 37, 39),
  ...records("A", "8 May", 38, 40),
  ...records("B", "1 May", 30, 31),
  ...records("B", "8 May", 33),
  ...records("C", "1 May", 45),
]);
const mean = { rule: "mean", trials: 3 } as const;

describe("typicalErrorsFromTrials", () => {
  // By hand: sums of squares 2 + 2 + 0.5 with 2 + 1 + 1 degrees of freedom; A alone 4 with 3.
  test("pools trials within sessions, for the squad and each person", () => {
    const { squad, people } = typicalErrorsFromTrials(trials, mean);
    expect(squad!.value).toBeCloseTo(Math.sqrt(4.5 / 4), 12);
    expect(people.get("A")!.value).toBeCloseTo(Math.sqrt(4 / 3), 12);
    expect(people.has("C")).toBe(false);
  });

  // By hand: means A 38, 39; B 30.5, 33; differences 1 and 2.5.
  test("takes the error between days from session values", () => {
    const { betweenSessions } = typicalErrorsFromTrials(trials, mean);
    expect(betweenSessions!.value).toBeCloseTo(typicalError([[38, 39], [30.5, 33]]).value, 12);
    expect([betweenSessions!.people, betweenSessions!.leftOut]).toEqual([2, 1]);
  });

  test("gives percentages from logarithms", () => {
    const { squad } = typicalErrorsFromTrials(trials, mean, "higher", "log");
    expect(squad!.value).toBeCloseTo(pooledTypicalError([[38, 37, 39], [38, 40], [30, 31]], "log").value, 12);
  });

  test("leaves absent what the trials cannot give", () => {
    const { squad, people, betweenSessions } = typicalErrorsFromTrials(records("A", "1 May", 38), mean);
    expect([squad, people.size, betweenSessions]).toEqual([undefined, 0, undefined]);
  });

  test("tells the two errors apart in simulated trials", () => {
    const normal = normalFrom(seededRandom(71));
    const simulated = Array.from({ length: 400 }, (_, person) =>
      ["1", "2"].flatMap((session) => {
        const day = 38 + 1.2 * normal();
        return records(String(person), session, day + 0.6 * normal(), day + 0.6 * normal(), day + 0.6 * normal());
      }),
    ).flat();
    const { squad, betweenSessions } = typicalErrorsFromTrials(simulated, mean);
    expect(Math.abs(squad!.value - 0.6)).toBeLessThan(0.04);
    // Between days: sqrt(1.2^2 + 0.6^2 / 3) = 1.249; standard error about 0.044.
    expect(Math.abs(betweenSessions!.value - 1.249)).toBeLessThan(0.13);
  });

  test("refuses what is not a number", () => {
    expect(() => typicalErrorsFromTrials(records("A", "1", 1, NaN), mean)).toThrow(expect.objectContaining({ code: "not-a-number" }));
    expect(() => typicalErrorsFromTrials(records("A", "1", 1, 0), mean, "higher", "log")).toThrow(expect.objectContaining({ code: "out-of-range" }));
  });
});
