import { describe, expect, test } from "vitest";
import { TESTS } from "../../../src/protocols/Protocol.ts";
import { cues } from "../../../src/wording/cues.ts";

describe("cues", () => {
  test.each(TESTS)("of %s ask for a stand or hold to weigh, and say when to repeat", (name) => {
    const { setUp, say, timing, repeatIf } = cues(name);
    expect([...setUp, ...say, ...timing].join(" ")).toMatch(/still|standing|Weigh/);
    expect(repeatIf.length).toBeGreaterThan(2);
    for (const sentence of [...setUp, ...say, ...timing]) expect(sentence).toMatch(/^\p{Lu}.*\.$/u);
  });

  test("begin a drop jump with a low box and an empty plate", () => {
    expect(cues("DJ").setUp.join(" ")).toMatch(/low one.*nobody on the landing plates/);
  });
});
