import type { MetricGroup } from "../protocols/Analysis.ts";
import type { Test } from "../protocols/Protocol.ts";
import type { MetricDefinition } from "./MetricDefinition.ts";

/** Tests with a flight that is integrated. */
export const JUMPS: readonly Test[] = ["CMJ", "SJ", "DJ"];
/** Tests that start from a stand or a held squat. */
export const STANDING_JUMPS: readonly Test[] = ["CMJ", "SJ"];
/** Tests with a braking phase that ends in an upward push. */
export const BRAKING_JUMPS: readonly Test[] = ["CMJ", "DJ"];

/** Needs of a metric that comes from integrating the force. */
export const INTEGRATED: readonly MetricGroup[] = ["T", "B", "V"];

/** Sentences that hold for several metrics, so that they are written once. */
export const SHARED = {
  quietStart: "The body is at rest when integration starts.",
  bodyWeight: "Body weight is measured, not assumed: 1 N of error changes the height of an ordinary jump by about 4 mm.",
  quietStand: "The person stands still while weighed.",
  timeBase: "The samples are evenly spaced at the stated rate, and the events lie above the noise of the empty plates.",
  landing: "The landing is wholly on the plates.",
  zeroed: "The plates read zero when empty, or were corrected, and their calibration holds.",
  wholeFeet: "Both feet, and nothing else, are on the plates.",
  onset: "Its start depends on the onset rule, by 10 to 40 ms: compare only within one rule.",
  gain: "A gain error of the plate passes into it one for one.",
  rfdReliability: "Rates of force development repeat far less well than forces: typical errors of 10 % and more are usual.",
  landingHabit: "Much of it is the habit of landing: the instruction (soft or quick) belongs beside the number.",
  relativePower: "Power per kilogram is tied to take-off velocity by mechanics, so its correlation with height says little.",
  phaseNames: "Papers use \"eccentric\" for three different stretches of time: compare the start and end events, never the names.",
} as const;

/** What most entries leave out. */
export type MetricEntry = Pick<MetricDefinition, "id" | "name" | "unit" | "tests" | "needs" | "definition" | "sources" | "better"> &
  Partial<Pick<MetricDefinition, "assumptions" | "watchFor" | "range" | "forms">>;

/**
 * A complete catalogue entry from what is particular to it.
 *
 * @param entry The entry, with SI unit; assumptions that are left out follow from what it needs, absent forms do not exist.
 * @returns The entry, frozen, in its SI unit.
 */
export function defineMetric(entry: MetricEntry): MetricDefinition {
  return Object.freeze({ assumptions: assumptionsOf(entry.needs), watchFor: [], forms: {}, ...entry });
}

/** What a metric takes for granted by its needs alone. */
function assumptionsOf(needs: readonly MetricGroup[]): readonly string[] {
  return [
    ...(needs.includes("V") ? [SHARED.quietStart, SHARED.wholeFeet] : []),
    ...(needs.includes("T") && !needs.includes("V") ? [SHARED.timeBase] : []),
    ...(needs.includes("B") && !needs.includes("V") ? [SHARED.quietStand] : []),
    ...(needs.includes("L") ? [SHARED.landing] : []),
    ...(needs.length === 0 ? [SHARED.zeroed] : []),
  ];
}

/** Forms of a force of the ground on both feet. */
export const FORCE_FORMS = Object.freeze({ sides: true, relative: true, net: true, asymmetry: true });
/** Forms of an impulse: the sum is net, a side is gross. */
export const IMPULSE_FORMS = Object.freeze({ sides: true, relative: true, asymmetry: true });
/** Forms of a power, a stiffness or a rate of force development. */
export const RELATIVE_FORM = Object.freeze({ relative: true });
