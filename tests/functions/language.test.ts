import { beforeAll, describe, expect, test } from "vitest";
import { FUNCTIONS } from "../../functions/index.ts";
import { METRICS } from "../../src/catalogue/metrics.ts";
import { SETTINGS } from "../../src/settings/definitions.ts";
import { syntheticTrial } from "../../src/synthetic/syntheticTrial.ts";
import { packTrace } from "../../src/trace/packTrace.ts";
import { speakMarked, unmarked } from "../support/markedLanguage.ts";

const call = (name: string, ...args: unknown[]): unknown => FUNCTIONS.get(name)!(...args);

/** Ids, units, names of papers and of terms: what is the same in every language, or is looked up by what a person types. */
function words(text: string): readonly string[] {
  return unmarked(text).match(/\p{L}{3,}/gu) ?? [];
}

describe("cell functions in another language", () => {
  beforeAll(async () => {
    await speakMarked();
  }, 60_000);

  test.each(METRICS.map(({ id }) => id))("EXPLAIN says everything of %s in it, but for its unit and its sources", (id) => {
    const text = String(call("EXPLAIN", id));
    const sources = text.slice(text.lastIndexOf("\u27e6Source\u27e7"));
    // The paper of a usual size stands in brackets behind it.
    expect(words(text.replace(sources, "").replace(/ \([^()]*\(\d{4}\w?\)\)/g, ""))).toEqual([]);
  });

  test.each(SETTINGS.map(({ id }) => id))("EXPLAIN says label and description of the setting %s in it", (id) => {
    const setting = SETTINGS.find((each) => each.id === id)!;
    const text = String(call("EXPLAIN", id));
    expect(text).toContain(`\u27e6${setting.label}\u27e7`);
    expect(text).toContain(`\u27e6${setting.description}\u27e7`);
  });

  test("findings are said in it", () => {
    const { trace } = syntheticTrial({ test: "CMJ", seed: 4, mass: 68, height: 0.3, faults: { noise: 6, cutStart: 1.7, offset: [20, 25] } });
    const rows = call("FINDINGS", packTrace(trace).map((cell) => [cell]), "CMJ", null, null, null) as unknown[][];
    const sentences = rows.flat().filter((cell) => typeof cell === "string" && cell.length > 20);
    expect(sentences.length).toBeGreaterThan(2);
    for (const sentence of sentences) expect(words(String(sentence))).toEqual([]);
  });

  const hops = (): unknown => {
    const contactTimes = [0.2, 0.2, 0.34, 0.2, 0.2, 0.2, 0.2];
    const { trace } = syntheticTrial({ test: "RH", seed: 2, hops: { contactTimes, takeoffVelocities: [2.4, ...contactTimes.map(() => 2.3)] } });
    return packTrace(trace).map((cell) => [cell]);
  };
  test.each<[string, string, () => unknown[]]>([
    ["why a ratio has no limits", "COMBINE", () => ["EUR", [[0.31]], [[0.3]], null, null, null, null, null, "noLimits"]],
    ["why a ratio has no limits, in its reading,", "READ_RATIO", () => ["EUR", 0.35, 0.32, null, null, "CMJ arms=hips", "SJ arms=hips", null, null, "m", "number", null, null, null, null, null, null]],
    ["why a series began anew", "FOLLOW", () => [[[1], [2]], [[30], [31]], [["CMJ arms=hips"], ["CMJ arms=swing"]], null, null, null, null, null]],
    ["what is to know of a session value", "SESSION_VALUE", () => [[[1]], null, null, null, null, "note"]],
    ["what is to know of few trials", "SESSION_VALUE", () => [[[1], [2]], null, null, null, null, "note"]],
    ["why a hop does not count", "HOPS", () => [hops(), "RH", [["hop-contact-limit", 0.25]], null, null]],
  ])("%s is said in it", (_, name, args) => {
    const cells = (call(name, ...args()) as unknown[][]).flat();
    const said = cells.filter((cell) => typeof cell === "string" && cell.includes("\u27e6"));
    expect(said.length).toBeGreaterThan(0);
    for (const sentence of said) expect(words(String(sentence))).toEqual([]);
    // Beside it nothing but ids and protocols.
    for (const cell of cells) if (typeof cell === "string" && !said.includes(cell)) expect(cell).toMatch(/^(?:[a-zA-Z]*|CMJ arms=\w+)$/);
  });

  test.each([
    ["HEIGHT_FLIGHT", [[[-1]], null]],
    ["METRIC", [[["not a trace"]], "CMJ", "jumpHeight"]],
    ["METRIC", [[["not a trace"]], "CMJX", "jumpHeight"]],
    ["METRIC", [[["not a trace"]], "CMJ", "jumpHigh"]],
    ["RSI", [[["x"]], [[0.2]], null]],
    ["ICC", [[[1, 2]], "none"]],
    ["EXPLAIN", [[["no such thing at all"]]]],
  ])("an error of %s is said in it", (name, args) => {
    let error: unknown;
    try {
      const result = call(name, ...args);
      error = Array.isArray(result) ? result.flat()[0] : result;
    } catch (thrown) {
      error = thrown;
    }
    expect(error).toBeInstanceOf(Error);
    expect((error as Error).message).toMatch(/\u27e6.*\u27e7/s);
    expect(unmarked((error as Error).message)).not.toMatch(/\p{L}/u);
  });
});
