import { describe, expect, test } from "vitest";
import { EVENT_NAMES } from "../../../src/protocols/eventNames.ts";
import { TESTS } from "../../../src/protocols/Protocol.ts";
import { SOURCES } from "../../../src/uncertainty/sources.ts";
import { eventName } from "../../../src/wording/eventName.ts";
import { phaseName } from "../../../src/wording/phaseName.ts";
import { testName } from "../../../src/wording/testName.ts";
import { uncertaintySource } from "../../../src/wording/uncertaintySource.ts";

describe("names in words", () => {
  test("every event, phase and test has words of its own", () => {
    const events = EVENT_NAMES.map((name) => eventName(name));
    expect(new Set(events).size).toBe(EVENT_NAMES.length);
    for (const words of [...events, phaseName("braking"), ...TESTS.map((name) => testName(name))]) expect(words).toMatch(/^\p{Lu}/u);
  });

  test("every source of uncertainty has words", () => {
    for (const source of SOURCES) expect(uncertaintySource(source).says, source).toMatch(/\.$/);
  });

  test("a contribution of a budget has a name and a sentence", () => {
    expect(uncertaintySource("bodyWeight")).toMatchObject({ name: "Body weight", says: expect.stringMatching(/\.$/) });
    expect(uncertaintySource("never heard of")).toEqual({ name: "never heard of", says: "" });
  });
});
