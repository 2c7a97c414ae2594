import type { Test } from "../protocols/Protocol.ts";
import { COURSEWORK_FAULTS, type CourseworkFault } from "./Coursework.ts";

/** Faults that only some tests can have: a dip is one of a held squat, a landing needs a flight of its own, a pull has no impact to ring after. */
const ONLY: Readonly<Partial<Record<CourseworkFault, readonly Test[]>>> = {
  dip: ["SJ"],
  bentLanding: ["CMJ", "SJ", "DJ"],
  ringing: ["CMJ", "SJ", "DJ", "RH"],
};

/**
 * The faults that the recordings of a test can have on purpose.
 *
 * @param test Which test, no unit.
 * @returns Faults in their usual order, no unit.
 */
export function faultsOf(test: Test): readonly CourseworkFault[] {
  return COURSEWORK_FAULTS.filter((fault) => ONLY[fault]?.includes(test) ?? true);
}
