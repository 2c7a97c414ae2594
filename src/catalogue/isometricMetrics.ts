import type { Test } from "../protocols/Protocol.ts";
import { defineMetric, FORCE_FORMS, IMPULSE_FORMS, RELATIVE_FORM, SHARED } from "./defineMetric.ts";
import type { MetricDefinition } from "./MetricDefinition.ts";

const PULL: readonly Test[] = ["IMTP"];
const ONSET = "An onset found 4 ms late changes the first 50 ms by more than 10 %: one onset rule for one history.";

const forceAt = (ms: number): MetricDefinition =>
  defineMetric({
    id: `force${ms}ms`, name: `Force at ${ms} ms`, unit: "N", tests: PULL, needs: ["T"],
    definition: `Force ${ms} ms after the onset of the pull, between samples by a straight line. Gross; the Net form is less body weight.`,
    watchFor: [ONSET, SHARED.gain], sources: ["dossantos2017", "comfort2019"], forms: FORCE_FORMS, better: "higher",
  });

const rateBetween = (from: number, to: number): MetricDefinition =>
  defineMetric({
    id: `rfd${from}to${to}`, name: `Rate of force development, ${from} to ${to} ms`, unit: "N/s", tests: PULL, needs: ["T"],
    definition: `Rise of the force from ${from} to ${to} ms after the onset of the pull, divided by ${to - from} ms.`,
    watchFor: [ONSET, SHARED.rfdReliability], sources: ["maffiuletti2016", "comfort2019"], forms: RELATIVE_FORM, better: "higher",
  });

const impulseTo = (ms: number): MetricDefinition =>
  defineMetric({
    id: `impulse0to${ms}`, name: `Impulse, 0 to ${ms} ms`, unit: "N s", tests: PULL, needs: ["T", "B"],
    definition: `Impulse of the force above body weight (or above the baseline, by setting) from the onset of the pull to ${ms} ms after it. The impulse of a side is gross.`,
    watchFor: [ONSET], sources: ["comfort2019"], forms: IMPULSE_FORMS, better: "higher",
  });

/** Metrics of the isometric mid-thigh pull. */
export const ISOMETRIC_METRICS: readonly MetricDefinition[] = [
  defineMetric({
    id: "baselineForce", name: "Force before the pull", unit: "N", tests: PULL, needs: [],
    definition: "Mean force in the quiet second before the onset of the pull, straps taut.",
    watchFor: ["It holds body weight and the tension of the straps."],
    sources: ["comfort2019"], forms: { sides: true, relative: true, asymmetry: true }, better: "neither",
  }),
  defineMetric({
    id: "preTensionForce", name: "Tension before the pull", unit: "N", tests: PULL, needs: ["B"],
    definition: "Force before the pull less body weight weighed without the bar.",
    watchFor: ["More than 50 N (from memory, Comfort et al. 2019): repeat with less slack taken up.", "Needs a weighing without the bar, or a body weight given by hand."],
    sources: ["comfort2019"], better: "lower",
  }),
  ...[50, 90, 100, 150, 200, 250].map(forceAt),
  ...([[0, 50], [0, 100], [0, 150], [0, 200], [0, 250], [50, 100], [100, 200]] as const).map(([from, to]) => rateBetween(from, to)),
  ...[100, 200, 250].map(impulseTo),
  defineMetric({
    id: "timeToPeakForce", name: "Time to peak force", unit: "s", tests: PULL, needs: ["T"],
    definition: "Time from the onset of the pull to the peak force.",
    watchFor: ["On a long plateau chance decides where the peak lies: it repeats poorly."],
    sources: ["comfort2019"], better: "neither",
  }),
];
