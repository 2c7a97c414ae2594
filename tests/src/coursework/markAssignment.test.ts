import { describe, expect, test } from "vitest";
import { makeCoursework } from "../../../src/coursework/makeCoursework.ts";
import { markAssignment } from "../../../src/coursework/markAssignment.ts";

const { keys } = makeCoursework({ test: "CMJ", students: ["A", "B"], faults: [], noise: 1, seed: 11 });
const [key] = keys;

describe("markAssignment", () => {
  test("matches answers by metric, in any order and spelling", () => {
    const given = [...key.answers].reverse().map(({ metric, value }) => ({ metric: metric.replace(/([A-Z])/g, " $1").toLowerCase(), value }));
    const marked = markAssignment(given, key);
    expect(marked.right).toBe(key.answers.length);
    expect(marked.answers.map((answer) => answer.key.metric)).toEqual(key.answers.map(({ metric }) => metric));
  });

  test("counts a row that is gone as blank and passes over rows that were not asked for", () => {
    const marked = markAssignment([{ metric: "bodyWeight", value: key.answers[0].value }, { metric: "my notes", value: 3 }], key);
    expect(marked.right).toBe(1);
    expect(marked.answers.slice(1).every(({ mark }) => mark.outcome === "blank")).toBe(true);
  });

  test("finds another student's answers wrong", () => {
    const other = keys[1].answers.map(({ metric, value }) => ({ metric, value }));
    expect(markAssignment(other, key).right).toBeLessThan(key.answers.length / 2);
  });

  test("says which answers are formulas of this add-in", () => {
    const marked = markAssignment([{ metric: "bodyWeight", value: key.answers[0].value, formula: "=LEAP.METRIC(A1,\"CMJ\",\"bodyWeight\")" }], key);
    expect(marked.answers[0].mark).toMatchObject({ outcome: "right", byFunction: true });
  });

  test("refuses one question answered twice", () => {
    const twice = [{ metric: "bodyWeight", value: 1 }, { metric: "body weight", value: 2 }];
    expect(() => markAssignment(twice, key)).toThrow(expect.objectContaining({ code: "wrong-shape", where: "A" }));
  });
});
