import { describe, expect, test } from "vitest";
import { recordingSentence } from "../../../src/wording/recordingSentence.ts";

describe("recordingSentence", () => {
  test("is a sentence for everything but the recording that was handed out", () => {
    expect(recordingSentence({ outcome: "own" })).toBe("");
    expect(recordingSentence({ outcome: "of another", of: "Ben" })).toBe("The recording is not the one handed out, but that of Ben.");
    const others = (["differs", "missing"] as const).map((outcome) => recordingSentence({ outcome }));
    for (const sentence of others) expect(sentence).toMatch(/^The recording .*\.$/);
    expect(others[0]).not.toBe(others[1]);
  });
});
