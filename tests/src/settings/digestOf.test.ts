import { describe, expect, test } from "vitest";
import { digestOf } from "../../../src/settings/digestOf.ts";

describe("digestOf", () => {
  // Published FNV-1a 64-bit test vectors (Noll, FNV reference code, test_fnv.c; from memory) and the definition in BigInt below.
  test.each([
    ["", "cbf29ce484222325"],
    ["a", "af63dc4c8601ec8c"],
    ["foobar", "85944171f73967e8"],
  ])("of %j is %s", (text, digest) => {
    expect(digestOf(text)).toBe(digest);
  });

  test("agrees with the definition in whole numbers of any size", () => {
    const text = "gravity=9.80665\nheight-method=flight time\n" + "x".repeat(500);
    let hash = 0xcbf29ce484222325n;
    for (const letter of text) hash = ((hash ^ BigInt(letter.charCodeAt(0))) * 0x100000001b3n) & 0xffffffffffffffffn;
    expect(digestOf(text)).toBe(hash.toString(16).padStart(16, "0"));
  });
});
