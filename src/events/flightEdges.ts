import type { Stretch } from "./findEmptyRuns.ts";
import { crossing } from "./crossing.ts";

const LOADED_SECONDS = 0.01;
const LOADED_SLOPE_SECONDS = 0.003;

/** An edge of a stretch without load. */
export interface FlightEdge {
  /** Crossing of the threshold, s from sample zero. */
  readonly time: number;
  /** Size of the slope of the force at the crossing, N/s. */
  readonly slope: number;
  /** The same over the 3 ms of load beside it, N/s: a force whose small values were cut off steps at the crossing. */
  readonly loadedSlope: number;
  /** Short excursions above the threshold that were bridged between here and the middle of the flight. */
  readonly bridged: number;
}

/**
 * Take-off: the crossing of the threshold that begins the empty run. Looks outward from the run to a force that has
 * been `loaded` for 10 ms, then back inward to the crossing, so that ringing after take-off does not split the flight.
 *
 * @param force Force with its zero removed, N.
 * @param run Empty run, samples.
 * @param threshold Fine threshold, N.
 * @param loaded Force of a plate that is surely loaded (10 % of body weight), N.
 * @param rate Sampling rate, Hz.
 * @returns The edge, or undefined where the record begins inside the run.
 */
export function takeoffEdge(force: Float64Array, run: Stretch, threshold: number, loaded: number, rate: number): FlightEdge | undefined {
  const needed = Math.max(1, Math.round(LOADED_SECONDS * rate));
  const sure = Math.max(loaded, threshold);
  let count = 0;
  let i = middleOf(run);
  while (i >= 0 && count < needed) {
    count = force[i]! >= sure ? count + 1 : 0;
    i--;
  }
  if (count < needed) return undefined;
  let edge = i + needed;
  while (edge + 1 < middleOf(run) && force[edge + 1]! >= threshold) edge++;
  edge += 1;
  return {
    time: crossing(force, edge, threshold, rate),
    slope: slopeAt(force, edge, rate),
    loadedSlope: loadedSlope(force, edge - 1, -1, rate),
    bridged: excursions(force, edge, middleOf(run), threshold),
  };
}

/** Landing: the crossing of the threshold that ends the empty run; the mirror of {@link takeoffEdge}. */
export function landingEdge(force: Float64Array, run: Stretch, threshold: number, loaded: number, rate: number): FlightEdge | undefined {
  const needed = Math.max(1, Math.round(LOADED_SECONDS * rate));
  const sure = Math.max(loaded, threshold);
  let count = 0;
  let i = middleOf(run);
  while (i < force.length && count < needed) {
    count = force[i]! >= sure ? count + 1 : 0;
    i++;
  }
  if (count < needed) return undefined;
  let edge = i - needed;
  while (edge - 1 > middleOf(run) && force[edge - 1]! >= threshold) edge--;
  return {
    time: crossing(force, edge, threshold, rate),
    slope: slopeAt(force, edge, rate),
    loadedSlope: loadedSlope(force, edge, 1, rate),
    bridged: excursions(force, middleOf(run), edge, threshold),
  };
}

function middleOf(run: Stretch): number {
  return (run.start + run.end) >> 1;
}

function slopeAt(force: Float64Array, i: number, rate: number): number {
  return Math.abs(force[i]! - force[i - 1]!) * rate;
}

function loadedSlope(force: Float64Array, at: number, step: 1 | -1, rate: number): number {
  const reach = Math.max(1, Math.round(LOADED_SLOPE_SECONDS * rate));
  const to = Math.min(force.length - 1, Math.max(0, at + step * reach));
  return to === at ? 0 : (Math.abs(force[to]! - force[at]!) * rate) / Math.abs(to - at);
}

function excursions(force: Float64Array, start: number, end: number, threshold: number): number {
  let count = 0;
  for (let i = start; i < end; i++) if (force[i]! >= threshold && force[i - 1]! < threshold) count++;
  return count;
}
