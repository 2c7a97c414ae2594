import { describe, expect, test } from "vitest";
import { metricsOf } from "../../../src/catalogue/metrics.ts";
import type { Finding } from "../../../src/protocols/Analysis.ts";
import { missingReasons } from "../../../src/protocols/missingReasons.ts";
import { GROUP_BITS } from "../../../src/protocols/workings.ts";

const finding = (rule: string, action: Finding["action"], ...removes: Finding["removes"]): Finding => ({ rule, action, removes, message: `what ${rule} says`, values: {} });
const NONE = new Map<string, string>();

describe("missingReasons", () => {
  test("has a sentence for each metric of the test that is not there, and for no other", () => {
    const there = new Map([["jumpHeight", 1]]);
    const reasons = missingReasons("CMJ", there, NONE, [], undefined);
    expect([...reasons.keys()]).toEqual(metricsOf("CMJ").map(({ id }) => id).filter((id) => id !== "jumpHeight"));
    expect(new Set(reasons.values())).toEqual(new Set(["the trace does not hold what this metric is taken from"]));
  });

  test("names the rule that removed a group the metric needs", () => {
    const reasons = missingReasons("CMJ", new Map(), NONE, [finding("Q24", "look", "L"), finding("Q1", "look", "B", "V")], undefined);
    expect(reasons.get("takeoffVelocity")).toBe("what Q1 says");
    expect(reasons.get("peakLandingForce")).toBe("what Q24 says");
    // Times need no weighing.
    expect(reasons.get("flightTime")).toBe("the trace does not hold what this metric is taken from");
  });

  test("goes by what a metric was really made of where the analysis took it out", () => {
    const removed = new Map([["flightTime", GROUP_BITS.V]]);
    expect(missingReasons("CMJ", new Map(), NONE, [finding("Q1", "look", "V")], removed).get("flightTime")).toBe("what Q1 says");
  });

  test("else says what the analysis knows, then the rule that looks at the metric, then what tells of the whole trial", () => {
    const known = new Map([["driftRate", "there is no second stand"]]);
    const findings = [finding("Q4", "not checked"), finding("Q3", "not checked"), finding("Q13", "not checked"), finding("noLanding", "look")];
    const reasons = missingReasons("CMJ", new Map(), known, findings, undefined);
    expect(reasons.get("driftRate")).toBe("there is no second stand");
    expect(reasons.get("flightOffset")).toBe("what Q3 says");
    // A rule that was not checked tells nothing of the trial.
    expect(reasons.get("peakLandingForce")).toBe("what noLanding says");
    expect(missingReasons("CMJ", new Map(), NONE, [finding("Q2", "look")], undefined).get("peakForce")).toBe("the trace does not hold what this metric is taken from");
  });

  test.each([
    ["CMJ", "driftRate", "Q4"], ["CMJ", "endVelocity", "Q10"], ["CMJ", "heightDifference", "Q9"], ["DJ", "measuredDropHeight", "Q15"], ["DJ", "nominalDropHeight", "Q15"], ["IMTP", "preTensionForce", "Q19"],
    ["IMTP", "bodyWeight", "Q19"], ["IMTP", "bodyMass", "Q19"], ["CMJ", "weighingSd", "bodyWeightGiven"], ["CMJ", "bodyWeightUncertainty", "bodyWeightGiven"],
  ] as const)("%s: %s is explained by %s", (test, id, rule) => {
    expect(missingReasons(test, new Map(), NONE, [finding(rule, "not checked")], undefined).get(id)).toBe(`what ${rule} says`);
  });

  test.each(["Q8", "noLanding", "noLowest", "noOnset", "recordEndsEarly", "Q5", "Q7", "Q13", "noPull", "Q18"])("%s tells why the rest is missing", (rule) => {
    expect(missingReasons("CMJ", new Map(), NONE, [finding(rule, "look")], undefined).get("peakPower")).toBe(`what ${rule} says`);
  });
});
