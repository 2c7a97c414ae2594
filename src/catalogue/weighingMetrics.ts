import { TESTS } from "../protocols/Protocol.ts";
import { defineMetric, JUMPS, STANDING_JUMPS } from "./defineMetric.ts";
import type { MetricDefinition } from "./MetricDefinition.ts";

/** Body weight, and the state of the plates. */
export const WEIGHING_METRICS: readonly MetricDefinition[] = [
  defineMetric({
    id: "bodyWeight", name: "Body weight", unit: "N", tests: TESTS, needs: ["B"],
    definition:
      "Mean force in the weighing window, the quiet second before the movement (in a drop jump the quiet stand after the landing or on the box). With an external load it is the weight of person and load.",
    assumptions: ["The person stands still: the mean acceleration over the window is zero.", "The plates read zero when empty, or were corrected."],
    watchFor: ["Clothes, shoes and a bar count as weight.", "A stand that is not quiet moves every number that is integrated."],
    sources: ["owen2014"], better: "neither",
  }),
  defineMetric({
    id: "bodyMass", name: "Body mass from the plate", unit: "kg", tests: TESTS, needs: ["B"],
    definition: "Body weight in the weighing window divided by gravity, less the stated load.",
    assumptions: ["Gravity is the setting used: the standard value differs from the local one by up to 0.3 %."],
    watchFor: ["More than 2 kg from the entered mass: look at the zero of the plates, the load and the shoes."],
    sources: ["cgpm1901", "owen2014"], better: "neither",
  }),
  defineMetric({
    id: "weighingSd", name: "Standard deviation in the weighing window", unit: "N", tests: TESTS, needs: ["B"],
    definition: "Standard deviation (n - 1) of the force in the weighing window: how quiet the stand and the plate were.",
    watchFor: ["It holds the ringing and the hum of the plate as well as the sway of the person."],
    range: { text: "0.1 to 1 % of body weight in a quiet stand", source: "common practice" },
    sources: ["owen2014"], better: "lower",
  }),
  defineMetric({
    id: "bodyWeightUncertainty", name: "Standard uncertainty of body weight", unit: "N", tests: TESTS, needs: ["B"],
    definition:
      "How well the weighing window fixes body weight: half the difference of the means of its two halves, its noise, the uncertainty of the zero and the step of the values, added in quadrature.",
    assumptions: ["Sway is bounded, so its mean over the window falls with the length of the window."],
    watchFor: ["It does not hold the calibration of the plates: that is a setting."],
    sources: ["jcgm2008"], better: "lower",
  }),
  defineMetric({
    id: "flightOffset", name: "Force of the empty plates", unit: "N", tests: ["CMJ", "SJ", "DJ", "RH"], needs: [],
    definition: "Mean summed force in the middle of the flight (or of the empty stretch before a drop jump), before any correction: what the plates read with nobody on them.",
    watchFor: ["More than 5 N on a plate is corrected and said; zero the plates before the next trial.", "Exactly zero in a whole flight means that the values were cut off before they reached this file."],
    sources: ["street2001"], better: "neither",
  }),
  defineMetric({
    id: "driftRate", name: "Drift of the plates", unit: "N/s", tests: STANDING_JUMPS, needs: ["B"],
    definition: "Difference of the summed force between the quiet stand after the landing and the one before the jump, divided by the time between them.",
    assumptions: ["The same person stands still, with the same load, in both windows.", "The drift is linear; three windows cannot test that."],
    watchFor: ["Stepping off, or leaning on a rail after the jump, looks like drift."],
    sources: ["street2001", "vanrenterghem2001"], better: "lower",
  }),
  defineMetric({
    id: "endVelocity", name: "Velocity at the final stand", unit: "m/s", tests: JUMPS, needs: ["T", "B", "V"],
    definition: "Mean integrated velocity over the last half second of quiet standing after the landing. It should be zero, so it shows what the weighing, the zero and clipped peaks did to the integration.",
    assumptions: ["The person stands still on the plates at the end of the recording."],
    watchFor: ["In a drop jump integrated backward from the final stand it is zero by construction and tests nothing."],
    sources: ["street2001", "vanrenterghem2001"], better: "neither",
  }),
];
