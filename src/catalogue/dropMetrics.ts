import { defineMetric, FORCE_FORMS, INTEGRATED, RELATIVE_FORM, SHARED } from "./defineMetric.ts";
import type { MetricDefinition } from "./MetricDefinition.ts";

/** Metrics that only a drop jump has. */
export const DROP_METRICS: readonly MetricDefinition[] = [
  defineMetric({
    id: "contactTime", name: "Ground contact time", unit: "s", tests: ["DJ"], needs: ["T"],
    definition: "Time from touchdown to take-off.",
    watchFor: ["Above 0.25 s the jump is not in the fast range: it trains and shows something else."],
    range: { text: "below 0.25 s for a fast stretch-shortening cycle", source: "young1995" },
    sources: ["young1995", "schmidtbleicher1992", "flanagan2008"], better: "lower",
  }),
  defineMetric({
    id: "touchdownVelocity", name: "Velocity at touchdown", unit: "m/s", tests: ["DJ"], needs: INTEGRATED,
    definition: "Velocity of the centre of mass at touchdown, by the route of the setting drop-velocity: backward from the final stand, from the flight time, from the box height, or from the force under the box. Printed negative.",
    assumptions: ["Those of the route: a final stand that is still; or equal height of the centre of mass at take-off and landing; or a fall from exactly the box height; or a box that stands on a plate."],
    watchFor: ["Displacement, power and stiffness of the contact inherit its error."],
    sources: ["baca1999", "mcmahon2021"], better: "neither",
  }),
  defineMetric({
    id: "measuredDropHeight", name: "Real drop height", unit: "m", tests: ["DJ"], needs: INTEGRATED,
    definition: "Height of a free fall that gives the velocity at touchdown.",
    watchFor: ["On average it is 10 to 14 % below the box: people step down. Report it beside the box height."],
    sources: ["mcmahon2021", "baca1999"], better: "neither",
  }),
  defineMetric({
    id: "nominalDropHeight", name: "Nominal drop height", unit: "m", tests: ["DJ"], needs: [],
    definition: "Height of the box as stated in the protocol.",
    watchFor: ["What the person really fell is measuredDropHeight."],
    sources: ["baca1999"], better: "neither",
  }),
  defineMetric({
    id: "rsi", name: "Reactive strength index", unit: "m/s", tests: ["DJ"], needs: ["T"],
    definition: "Jump height divided by the contact time (touchdown to take-off). Settings choose the height (flight time, the classic, or take-off velocity) and whether the flight time takes its place; the index then has no unit.",
    watchFor: ["State the height, the drop and the arms: indices of unlike protocols are not comparable.", "Read it with its two parts: it can fall because the contact is longer or the jump is lower."],
    range: { text: "0.8 to 3.0 m/s", source: "common practice" },
    sources: ["young1995", "flanagan2008"], better: "higher",
  }),
  defineMetric({
    id: "flightToContactRatio", name: "Flight time to contact time ratio", unit: "", tests: ["DJ"], needs: ["T"],
    definition: "Flight time divided by the contact time (touchdown to take-off).",
    watchFor: ["Some papers call this the reactive strength index: the two are not interchangeable."],
    range: { text: "1.5 to 3.5", source: "common practice" },
    sources: ["harper2011", "flanagan2008"], better: "higher",
  }),
  defineMetric({
    id: "impactPeakForce", name: "Impact peak force", unit: "N", tests: ["DJ"], needs: ["T"],
    definition: "First peak of the force in the 50 ms after touchdown, where there is one.",
    watchFor: ["A clear impact peak often means that the heels struck.", "The limit of 50 ms is common practice."],
    sources: ["baca1999"], forms: FORCE_FORMS, better: "neither",
  }),
  defineMetric({
    id: "secondPeakForce", name: "Second peak force", unit: "N", tests: ["DJ"], needs: ["T"],
    definition: "Largest force of the contact after the impact peak, where the contact has two peaks.",
    watchFor: [SHARED.gain], sources: ["baca1999"], forms: FORCE_FORMS, better: "neither",
  }),
  defineMetric({
    id: "contactStiffness", name: "Contact stiffness", unit: "N/m", tests: ["DJ"], needs: INTEGRATED,
    definition: "Largest force of the contact divided by the drop of the centre of mass from touchdown to the lowest point.",
    assumptions: ["The leg is taken as one spring: force and displacement peak together."],
    watchFor: ["Not spring-like if the peak is well above the force at the lowest point: then the number is an impact, not a stiffness."],
    range: { text: "10 to 40 kN/m", source: "common practice" },
    sources: ["brughelli2008", "mcmahon1990"], forms: RELATIVE_FORM, better: "neither",
  }),
];
