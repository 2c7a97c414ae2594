import { InputError } from "../src/errors.ts";
import { loadProfile as loadProfileOf, type Limited } from "../src/sessions/loadProfile.ts";
import { dropHeightProfile } from "../src/statistics/dropHeightProfile.ts";
import { isGiven, numberFrom, optionalNumber, rowsFrom, singleFrom, textFrom } from "./runtime/cells.ts";

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
 * @returns Table with a head row: height, index, contact time, whether fast, gap to the best, least gap, reading.
 */
export function dropProfile(heights: any[][], rsi: any[][], contactTimes: any[][], typicalError?: any, counts?: any[][], jumpHeights?: any[][], fastContact?: any, level?: any): any[][] {
  const columns = [heights, rsi, contactTimes, counts, jumpHeights].map((range) => rowsFrom(range).flat());
  const [nominal, index, contact, count, jump] = columns;
  if (index.length !== nominal.length || contact.length !== nominal.length || [count, jump].some((column) => column.length > 0 && column.length !== nominal.length)) {
    throw new InputError("wrong-shape", "drop profile requires ranges with one cell for each drop height");
  }
  const points = nominal.flatMap((height, i) => {
    if (!isGiven(height) && !isGiven(index[i]) && !isGiven(contact[i])) return [];
    return [
      {
        nominalHeight: numberFrom(height, "drop profile: height"),
        rsi: numberFrom(index[i], "drop profile: index"),
        contactTime: numberFrom(contact[i], "drop profile: contact time"),
        count: optionalNumber(count[i], "drop profile: count", undefined),
        height: optionalNumber(jump[i], "drop profile: jump height", undefined),
      },
    ];
  });
  const profile = dropHeightProfile(points, {
    typicalError: optionalNumber(singleFrom(typicalError, "typical error"), "typical error", undefined),
    fastContact: optionalNumber(singleFrom(fastContact, "fast contact"), "fast contact", undefined),
    level: optionalNumber(singleFrom(level, "level"), "level", undefined),
  });
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
  const [load, height] = [rowsFrom(loads).flat(), rowsFrom(heights).flat()];
  if (load.length !== height.length) throw new InputError("wrong-shape", "load profile requires one height for each load");
  // A load of 0 is a value; a row is blank where its height is.
  const filled = height.flatMap((value, i) => (isGiven(value) ? [i] : []));
  const profile = loadProfileOf(
    filled.map((i) => (isGiven(load[i]) ? numberFrom(load[i], "load profile: load") : 0)),
    filled.map((i) => numberFrom(height[i], "load profile: height")),
    numberFrom(singleFrom(mass, "body mass"), "body mass"),
    numberFrom(singleFrom(pushOff, "push-off distance"), "push-off distance"),
    optionalNumber(singleFrom(g, "gravity"), "gravity", undefined),
    optionalNumber(singleFrom(level, "level"), "level", undefined),
  );
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
