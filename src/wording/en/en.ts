import type { Texts } from "../Texts.ts";
import { CAUTIONS } from "./cautions.ts";
import { COURSEWORK_EN } from "./coursework.ts";
import { FINDINGS } from "./findings.ts";
import { METHODS } from "./methods.ts";
import { READINGS } from "./readings.ts";
import { RULES } from "./rules.ts";
import { TERMS } from "./terms.ts";

/** English. */
export const EN: Texts = {
  events: {
    weighingStart: "Start of weighing",
    weighingEnd: "End of weighing",
    boxWeighingStart: "Start of weighing on the box",
    boxWeighingEnd: "End of weighing on the box",
    onset: "Start of movement",
    minimumForce: "Minimum force",
    minimumVelocity: "Peak downward velocity",
    lowest: "Lowest point",
    peakVelocity: "Peak upward velocity",
    takeoff: "Take-off",
    landing: "Landing",
    landingLowest: "Lowest point of the landing",
    stabilised: "Stable again",
    touchdown: "Touchdown",
    holdEnd: "End of the hold",
    stepOff: "Step off the box",
    pullOnset: "Start of the pull",
    peakForce: "Peak force",
  },
  tests: {
    CMJ: "Countermovement jump",
    SJ: "Squat jump",
    DJ: "Drop jump",
    RH: "Repeated hops",
    IMTP: "Isometric mid-thigh pull",
  },
  words: {
    plate: { total: "only", left: "left", right: "right", box: "box" },
    route: {
      backward: "the final stand",
      flight: "the flight time",
      box: "the height of the box",
      "two plates": "the plate under the box",
    },
  },
  findings: FINDINGS,
  rules: RULES,
  readings: READINGS,
  terms: TERMS,
  cautions: CAUTIONS,
  explain: {
    assumes: "Assumes",
    watchFor: "Watch for",
    range: "Usual size in healthy trained adults",
    sources: "Source",
    left: "Of the left foot alone.",
    right: "Of the right foot alone.",
    relative: "Per kilogram of body mass, without the load.",
    net: "Less body weight.",
    asymmetry: "Left against right, in percent, by the formula that the settings name; positive when left is higher.",
    sideImpulse: "The impulse of a side is gross: no part of body weight is taken off.",
    default: "Default",
    allowed: "Allowed",
  },
  methods: METHODS,
  coursework: COURSEWORK_EN,
};
