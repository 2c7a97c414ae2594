import { describe, expect, test } from "vitest";
import { nearestWords } from "../../src/nearestWords.ts";

describe("nearestWords", () => {
  // By hand: "jumpHieght" is two substitutions from "jumpHeight"; "kitten" to "sitting" is the textbook distance of three.
  test("puts the least distance first, without regard to case", () => {
    expect(nearestWords("jumphieght", ["peakForce", "jumpHeight", "jumpHeightFlightTime"])).toEqual(["jumpHeight"]);
    expect(nearestWords("kitten", ["mittens", "sitting"])).toEqual(["mittens", "sitting"]);
  });

  test("gives nothing where nothing is near, and never more than asked", () => {
    expect(nearestWords("zzz", ["height"])).toEqual([]);
    expect(nearestWords("aa", ["ab", "ac", "ad", "ae"], 2)).toHaveLength(2);
  });
});
