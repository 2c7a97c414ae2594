import { describe, expect, test } from "vitest";
import { trialUse } from "../../../src/sessions/trialUse.ts";

describe("trialUse", () => {
  test("a blank choice follows the verdict; a doubtful trial counts and is marked", () => {
    expect(trialUse("keep")).toEqual({ use: "keep", doubtful: false, decidedBy: "verdict" });
    expect(trialUse("look")).toEqual({ use: "keep", doubtful: true, decidedBy: "verdict" });
    expect(trialUse("leave out")).toEqual({ use: "leave out", doubtful: false, decidedBy: "verdict" });
  });

  test.each(["keep", "look", "leave out"] as const)("the person's choice wins over the verdict %s", (verdict) => {
    expect(trialUse(verdict, "keep")).toEqual({ use: "keep", doubtful: false, decidedBy: "person" });
    expect(trialUse(verdict, "leave out").use).toBe("leave out");
  });
});
