import { InputError } from "../src/errors.ts";
import type { Limited } from "../src/sessions/loadProfile.ts";
import { dropProfileFrom, loadProfileFrom } from "./runtime/profileArguments.ts";
import { singleFrom, textFrom } from "./runtime/cells.ts";

/**
 * Reactive strength over drop heights, one row a height: which is the best height with a fast contact, and which cannot be told from it.
 * @customfunction DROP_PROFILE
 * @param heights Nominal drop heights, in m; one column, one row a height.
 * @param rsi Reactive strength index at each height.
 * @param contactTimes Ground contact time at each height, in s.
 * @param [typicalError] Typical error of the index of one trial: without it no height can be told from another.
 * @param [counts] Trials behind each row; 1 when left out.
 * @param [jumpHeights] Jump height at each drop height, in m.
 * @param [fastContact] Longest contact of a fast stretch-shortening cycle, in s; 0.25 when left out.
 * @param [level] Level of a comparison of two heights, such as 0.95 (default).
 * @param [degreesOfFreedom] Degrees of freedom of the typical error; without them it is taken as exactly known.
 * @returns Table with a head row: height, index, contact time, whether fast, gap to the best, least gap, reading.
 */
export function dropProfile(heights: any[][], rsi: any[][], contactTimes: any[][], typicalError?: any, counts?: any[][], jumpHeights?: any[][], fastContact?: any, level?: any, degreesOfFreedom?: any): any[][] {
  const profile = dropProfileFrom(heights, rsi, contactTimes, typicalError, counts, jumpHeights, fastContact, level, degreesOfFreedom);
  const reading = (i: number): string => {
    if (!profile.points[i].fast) return "slow contact";
    if (i === profile.best) return profile.decided === true ? "best" : "highest, not told from others";
    return profile.alike.includes(i) ? "not told from the best" : "lower";
  };
  return [
    ["dropHeight", "rsi", "contactTime", "jumpHeight", "trials", "fast", "gap", "leastGap", "reading"],
    ...profile.points.map((point, i) => [point.nominalHeight, point.rsi, point.contactTime, point.height ?? "", point.count, point.fast, point.gap ?? "", point.leastGap ?? "", reading(i)]),
  ];
}

/**
 * Force and velocity over loaded jumps with the line through them. The line is extrapolated and its slope poorly repeatable: show points and limits, and draw no training verdict from it.
 * @customfunction LOAD_PROFILE
 * @param loads External loads, in kg; 0 for the jump without load.
 * @param heights Jump height above take-off at each load, in m.
 * @param mass Body mass, in kg.
 * @param pushOff Push-off distance, in m.
 * @param [what] "summary" (default: intercepts, slope and power with limits) or "points" (one row a load).
 * @param [level] Level of the limits, such as 0.95 (default).
 * @param [g] Gravity, in m/s²; 9.80665 when left out.
 * @returns Table with a head row.
 */
export function loadProfile(loads: any[][], heights: any[][], mass: any, pushOff: any, what?: any, level?: any, g?: any): any[][] {
  const profile = loadProfileFrom(loads, heights, mass, pushOff, level, g);
  const wanted = (textFrom(singleFrom(what, "what"), "what") ?? "summary").toLowerCase();
  if (wanted === "points") return [["load", "height", "force", "velocity", "power"], ...profile.points.map((point) => [point.load, point.height, point.force, point.velocity, point.power])];
  if (wanted !== "summary") throw new InputError("unknown-name", `load profile requires "summary" or "points", not "${wanted.slice(0, 40)}"`);
  const row = (name: string, unit: string, quantity: Partial<Limited> & { readonly value: number }) => [name, quantity.value, unit, quantity.low ?? "", quantity.high ?? ""];
  return [
    ["quantity", "value", "unit", "low", "high"],
    row("maximalForce", "N/kg", profile.maximalForce),
    row("slope", "N s/(m kg)", profile.slope),
    row("maximalVelocity", "m/s", profile.maximalVelocity),
    row("maximalPower", "W/kg", profile.maximalPower),
    ["loads", profile.points.length, "", "", profile.fewLoads ? "fewer than four loads" : ""],
  ];
}
