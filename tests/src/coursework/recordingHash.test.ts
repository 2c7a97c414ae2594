import { createHash } from "node:crypto";
import { describe, expect, test } from "vitest";
import { recordingHash } from "../../../src/coursework/recordingHash.ts";

describe("recordingHash", () => {
  // Independent route: Node's own SHA-256 of the same whole numbers, written down by hand: plates, samples, then hundredths of a newton.
  test("is SHA-256 of plates, samples and forces in hundredths of a newton", () => {
    const bytes = Buffer.alloc(5 * 4);
    [1, 3, 70012, -1, 0].forEach((whole, place) => bytes.writeInt32BE(whole, 4 * place));
    expect(recordingHash([[700.12, -0.0101, 0.004]])).toBe(createHash("sha256").update(bytes).digest("hex"));
  });

  test("is the same for a recording as it was made and as it stands in a sheet, rounded", () => {
    const force = Float64Array.from({ length: 500 }, (_, i) => 700 + 300 * Math.sin(i / 7) + i / 977);
    expect(recordingHash([force])).toBe(recordingHash([Array.from(force, (value) => Math.round(value * 100) / 100)]));
  });

  test("tells plates from samples, and their order", () => {
    const hashes = [[[1, 2, 3, 4]], [[1, 2], [3, 4]], [[3, 4], [1, 2]], [[1, 2, 3], [4]]].map(recordingHash);
    expect(new Set(hashes).size).toBe(hashes.length);
  });
});
