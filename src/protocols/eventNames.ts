import type { EventName } from "./Analysis.ts";

/** Every event a trial can have, in the order in which they are printed. */
export const EVENT_NAMES = [
  "weighingStart",
  "weighingEnd",
  "boxWeighingStart",
  "boxWeighingEnd",
  "holdEnd",
  "stepOff",
  "touchdown",
  "onset",
  "pullOnset",
  "minimumForce",
  "minimumVelocity",
  "lowest",
  "peakVelocity",
  "peakForce",
  "takeoff",
  "landing",
  "landingLowest",
  "stabilised",
] as const satisfies readonly EventName[];

/** Fails to compile where a name is missing above. */
const complete: readonly Exclude<EventName, (typeof EVENT_NAMES)[number]>[] = [] as const satisfies readonly never[];
void complete;
