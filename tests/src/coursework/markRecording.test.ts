import { describe, expect, test } from "vitest";
import { markRecording } from "../../../src/coursework/markRecording.ts";

const [ann, ben, old] = [{ student: "Ann", seed: 1, recording: "a", answers: [] }, { student: "Ben", seed: 2, recording: "b", answers: [] }, { student: "Cy", seed: 3, answers: [] }];

describe("markRecording", () => {
  test.each([
    ["a", { outcome: "own" }],
    ["b", { outcome: "of another", of: "Ben" }],
    ["c", { outcome: "differs" }],
    [undefined, { outcome: "missing" }],
  ] as const)("of a workbook with recording %s finds %j", (returned, found) => {
    expect(markRecording(returned, ann, [ann, ben, old])).toEqual(found);
  });
  test("says nothing where the key keeps no hash", () => {
    expect(markRecording("a", old, [ann, ben, old])).toBeUndefined();
  });
});
