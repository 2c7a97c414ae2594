import { createHash } from "node:crypto";
import { describe, expect, test } from "vitest";
import { contentHash } from "../../../src/read/contentHash.ts";
import { seededRandom } from "../../support/seededRandom.ts";

describe("contentHash", () => {
  // FIPS 180-4 examples: SHA-256 of "abc" and of the empty message.
  test("gives the published hashes", () => {
    expect(contentHash(Uint8Array.from([97, 98, 99]))).toBe("ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    expect(contentHash(new Uint8Array(0))).toBe("e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
  });

  test("agrees with Node's own hash at every length about the block size", () => {
    const random = seededRandom(1);
    for (let length = 0; length < 200; length++) {
      const bytes = Uint8Array.from({ length }, () => Math.floor(random() * 256));
      expect(contentHash(bytes)).toBe(createHash("sha256").update(bytes).digest("hex"));
    }
  });
});
