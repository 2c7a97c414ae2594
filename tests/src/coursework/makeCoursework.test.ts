import { describe, expect, test } from "vitest";
import { COURSEWORK_FAULTS, type CourseworkPlan } from "../../../src/coursework/Coursework.ts";
import { makeCoursework } from "../../../src/coursework/makeCoursework.ts";
import { TESTS } from "../../../src/protocols/Protocol.ts";

const PLAN: CourseworkPlan = { test: "CMJ", students: ["S01", "S02", "S03"], faults: ["offset", "sway"], noise: 1, seed: 20301 };

describe("makeCoursework", () => {
  test.each(TESTS)("gives each student of a %s coursework a different recording and answers of their own", (name) => {
    const { assignments, keys } = makeCoursework({ ...PLAN, test: name, faults: COURSEWORK_FAULTS, students: Array.from({ length: 12 }, (_, i) => `S${i}`) });
    expect(assignments).toHaveLength(12);
    expect(new Set(assignments.map(({ trace }) => trace.plates[0].force.slice(0, 50).join())).size).toBe(12);
    for (const [i, { answers }] of keys.entries()) {
      expect(answers.map(({ metric }) => metric)).toEqual(assignments[i].questions.map(({ metric }) => metric));
      for (const { value, tolerance, mistakes } of answers) {
        expect(tolerance).toBeGreaterThan(0);
        for (const mistake of mistakes) expect(Math.abs(mistake.value - value)).toBeGreaterThan(2 * tolerance);
      }
    }
  });

  test("gives the same coursework for the same plan and another for another seed", () => {
    expect(makeCoursework(PLAN)).toEqual(makeCoursework(PLAN));
    expect(makeCoursework({ ...PLAN, seed: 20302 }).keys[0].answers[0].value).not.toBe(makeCoursework(PLAN).keys[0].answers[0].value);
  });

  test("keeps seeds and answers out of what the student gets", () => {
    const { assignments, keys } = makeCoursework(PLAN);
    for (const [i, assignment] of assignments.entries()) {
      expect(Object.keys(assignment).sort()).toEqual(["questions", "student", "test", "trace"]);
      expect(Object.keys(assignment.trace).sort()).toEqual(["plates", "rate", "rounding", "start", "step"]);
      for (const question of assignment.questions) expect(Object.keys(question).sort()).toEqual(["metric", "unit"]);
      expect(JSON.stringify(assignment, (key, value: unknown) => (key === "force" ? undefined : value))).not.toContain(String(keys[i].seed));
    }
  });

  test("puts the faults that were asked for into the recordings", () => {
    const flightMean = (faults: CourseworkPlan["faults"]) => {
      const { assignments } = makeCoursework({ ...PLAN, faults, students: ["one"] });
      const total = assignments[0].trace.plates[0].force.map((value, k) => value + assignments[0].trace.plates[1].force[k]);
      return [...total].sort((a, b) => a - b).slice(0, 100).reduce((sum, value) => sum + value, 0) / 100;
    };
    expect(flightMean([])).toBeLessThan(3);
    expect(flightMean(["offset"])).toBeGreaterThan(8);
  });

  test("asks the questions that were chosen", () => {
    const { keys } = makeCoursework({ ...PLAN, questions: ["bodyWeight", "meanForceBraking"] });
    expect(keys[0].answers.map(({ metric, unit }) => [metric, unit])).toEqual([["bodyWeight", "N"], ["meanForceBraking", "N"]]);
  });

  test.each([
    [{ students: [] }, "out-of-range"],
    [{ students: ["a", "a"] }, "wrong-shape"],
    [{ noise: -1 }, "out-of-range"],
    [{ noise: NaN }, "out-of-range"],
    [{ questions: ["weighingSd"] }, "not-available"],
  ] as const)("refuses %j: %s", (change, code) => {
    expect(() => makeCoursework({ ...PLAN, ...change })).toThrow(expect.objectContaining({ name: "InputError", code }));
  });
});
