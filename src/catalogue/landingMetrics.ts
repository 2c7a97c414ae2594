import { defineMetric, FORCE_FORMS, IMPULSE_FORMS, JUMPS, RELATIVE_FORM, SHARED } from "./defineMetric.ts";
import type { MetricDefinition } from "./MetricDefinition.ts";

/** Metrics of the landing after the flight. */
export const LANDING_METRICS: readonly MetricDefinition[] = [
  defineMetric({
    id: "peakLandingForce", name: "Peak landing force", unit: "N", tests: JUMPS, needs: ["L"],
    definition: "Largest force in the 0.3 s after landing.",
    watchFor: [SHARED.landingHabit, "A low-pass filter takes a good part of it away."],
    range: { text: "3 to 6 body weights", source: "common practice" },
    sources: ["flanagan2008"], forms: FORCE_FORMS, better: "neither",
  }),
  defineMetric({
    id: "timeToPeakLandingForce", name: "Time to peak landing force", unit: "s", tests: JUMPS, needs: ["T", "L"],
    definition: "Time from landing to the peak landing force.",
    watchFor: [SHARED.landingHabit],
    range: { text: "0.03 to 0.08 s", source: "common practice" },
    sources: ["flanagan2008"], better: "neither",
  }),
  defineMetric({
    id: "landingLoadingRate", name: "Landing loading rate", unit: "N/s", tests: JUMPS, needs: ["T", "L"],
    definition: "Peak landing force divided by the time from landing to it (the form is a setting).",
    watchFor: [SHARED.landingHabit, "Mean rate and rate between 20 and 80 % of the peak are different numbers."],
    sources: ["flanagan2008"], forms: RELATIVE_FORM, better: "neither",
  }),
  defineMetric({
    id: "landingImpulse", name: "Landing impulse", unit: "N s", tests: JUMPS, needs: ["T", "B", "V", "L"],
    definition: "Net impulse from landing to the lowest point after it, where the velocity is zero: mass times the speed at landing. The impulse of a side is gross.",
    watchFor: ["It follows from the height of the fall, not from how softly the person lands."],
    sources: ["linthorne2001"], forms: IMPULSE_FORMS, better: "neither",
  }),
  defineMetric({
    id: "landingVelocity", name: "Landing velocity", unit: "m/s", tests: JUMPS, needs: ["T", "B", "V", "L"],
    definition: "Velocity of the centre of mass at landing. Printed negative.",
    watchFor: ["It inherits the errors of take-off velocity and of the two events."],
    sources: ["linthorne2001"], better: "neither",
  }),
  defineMetric({
    id: "landingTime", name: "Landing time", unit: "s", tests: JUMPS, needs: ["T", "B", "V", "L"],
    definition: "Time from landing to the lowest point after it, where the velocity is zero.",
    watchFor: [SHARED.landingHabit], sources: ["mcmahon2018phases"], better: "neither",
  }),
  defineMetric({
    id: "landingDepth", name: "Landing depth", unit: "m", tests: JUMPS, needs: ["T", "B", "V", "L"],
    definition: "Displacement of the centre of mass from landing to the lowest point after it. Printed negative.",
    watchFor: [SHARED.landingHabit, "Errors of body weight grow with the square of time: late displacements are the least certain."],
    sources: ["mcmahon2018phases"], better: "neither",
  }),
  defineMetric({
    id: "timeToStabilisation", name: "Time to stabilisation", unit: "s", tests: JUMPS, needs: ["T", "B", "L"],
    definition: "Time from landing to the first instant after which the force stays within a band around body weight (settings: 5 %, for 1 s).",
    watchFor: ["At least 18 rules are in use, and the length of the recording alone can double the value: it was found unreliable."],
    range: { text: "0.7 to 2 s", source: "common practice" },
    sources: ["flanagan2008", "fransz2015"], better: "lower",
  }),
];
