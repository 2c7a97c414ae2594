import { describe, expect, test } from "vitest";
import { parseOptions } from "../../command/options.ts";

describe("parseOptions", () => {
  test("writes the protocol in its canonical order", () => {
    const options = parseOptions(["a.csv", "--test", "dj", "--limb", "both", "--arms", "hips", "--drop-height", "0.3"]);
    expect(options.protocol).toBe("DJ drop=0.30 arms=hips limb=both");
  });

  test("reads columns, settings and the rest", () => {
    const options = parseOptions(["a", "b", "--test", "CMJ", "--columns", "left=3,right=6", "--set", "take-off-threshold=10", "--set", "rsi-basis=flight", "--invert", "--rate", "600", "--jobs", "2", "--format", "json", "--body-weight", "589", "--as-packed"]);
    expect(options).toMatchObject({
      places: ["a", "b"],
      columns: { left: 3, right: 6 },
      settings: [["take-off-threshold", "10"], ["rsi-basis", "flight"]],
      invert: true, rate: 600, jobs: 2, format: "json", bodyWeight: 589, asPacked: true,
    });
  });

  test.each([
    [["a"], "--test requires one of CMJ, SJ, DJ, RH, IMTP"],
    [["--test", "CMJ"], "at least one file or folder"],
    [["a", "--test", "CMJ", "--arms", "wings"], "--arms requires one of hips, swing"],
    [["a", "--test", "CMJ", "--rate=-5"], "--rate requires a number above zero"],
    [["a", "--test", "CMJ", "--columns", "middle=2"], "--columns requires role=number"],
    [["a", "--test", "CMJ", "--set", "take-off-threshold"], "--set requires name=value"],
    [["a", "--test", "CMJ", "--set", "no-such-setting=1"], "no-such-setting"],
    [["a", "--test", "CMJ", "--format", "paper"], "--format requires one of"],
    [["a", "--test", "CMJ", "--unknown"], "--unknown"],
    [["a", "--test", "CMJ", "--drop-height", "0.3"], "drop"],
  ])("refuses %j with a sentence", (words, sentence) => {
    expect(() => parseOptions(words)).toThrow(sentence);
  });
});
