import { describe, expect, test } from "vitest";
import type { Analysis } from "../../../src/protocols/Analysis.ts";
import { syntheticTrace } from "../../../src/synthetic/syntheticTrace.ts";
import type { SyntheticOptions } from "../../../src/synthetic/SyntheticOptions.ts";
import type { Trace } from "../../../src/trace/Trace.ts";
import { type PlainDropInputs, plainDropJump, plainLeaving } from "../../reference/plainDropJump.ts";
import { analysed, type Choice, differences, eventAt, less, meanInside, plainForceOf } from "../../support/secondOpinion.ts";

type Way = PlainDropInputs["way"]["kind"];
const G = 9.80665;
const WAYS: readonly Way[] = ["backward", "flight", "box", "two plates"];

const MADE: SyntheticOptions = { test: "DJ", seed: 5, mass: 71, leftShare: 0.54, boxLeaveVelocity: 0.4, landingLower: 0.03, quietBefore: 1.2, quietAfter: 1.3, faults: { noise: 0.6, sway: 1.2, offset: [4, -2] } };
const TRACE = syntheticTrace(MADE).trace;
const asked = (trace: Trace, choices: readonly Choice[] = [], protocol = "DJ drop=0.32", adjust = ""): Analysis => analysed(trace, { protocol, adjust, choices });

/** The inputs of the second opinion, given the product's instants; the forces with their zero taken from the flight. */
function inputs(trace: Trace, analysis: Analysis, kind: Way, more: Partial<PlainDropInputs> = {}): PlainDropInputs {
  const at = (name: Parameters<typeof eventAt>[1]): number => eventAt(analysis, name);
  const [takeoff, landing] = [at("takeoff"), at("landing")];
  const zeroed = (roles?: Parameters<typeof plainForceOf>[1]) => {
    const raw = plainForceOf(trace, roles);
    return less(raw, meanInside(raw, takeoff, landing, 0.045));
  };
  const single = trace.plates.some(({ role }) => role === "total");
  const sum = zeroed(single ? ["total"] : ["left", "right"]);
  const stand = [at("weighingStart"), at("weighingEnd")] as const;
  const way = (): PlainDropInputs["way"] => {
    if (kind === "backward") return { kind, atRest: 0 };
    if (kind === "flight") return { kind, posture: 0 };
    if (kind === "box") return { kind, height: 0.32 };
    const raw = plainForceOf(trace, ["box"]);
    const leave = at("stepOff");
    return { kind, leave, leaving: plainLeaving(less(raw, meanInside(raw, leave + 0.06, raw.end)), [0.2, 0.9], leave, true, G) };
  };
  return { sum, sides: single ? [] : [zeroed(["left"]), zeroed(["right"])], bodyWeight: meanInside(sum, ...stand), gravity: G, touchdown: at("touchdown"), takeoff, landing, posture: 0, stand, way: way(), ...more };
}

/** What only the product gives: what is said of the plates and of the weighing, and the height that was asked for. */
const UNSEEN = /^(weighingSd|bodyWeightUncertainty|flightOffset|nominalDropHeight)$/;
/** Between two samples the velocity is a straight line there: at touchdown the acceleration grows by 1.7 m/s^2 a sample, so that 0.2 mm/s may be lost. */
const near = (id: string) => ({ relative: id === "landingLoadingRate" || id === "timeToPeakLandingForce" ? 0.002 : 0.0003, absolute: id === "endVelocity" ? 2e-4 : 3e-5 });
/** The window on the box is the tests' own, so that the second opinion knows it. */
const BOX = "boxWeighingStart=0.2; boxWeighingEnd=0.9";

describe("a drop jump and a second opinion agree on every metric, by each way to its velocity", () => {
  test.each(WAYS)("%s", (kind) => {
    const analysis = asked(TRACE, [["drop-velocity", kind]], undefined, BOX);
    expect(differences(analysis, plainDropJump(inputs(TRACE, analysis, kind)), near, (id) => UNSEEN.test(id))).toEqual([]);
    expect(analysis.metrics.size).toBeGreaterThan(70);
  });
});
