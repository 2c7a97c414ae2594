import type { Adjust } from "./Adjust.ts";
import type { EventName } from "./Analysis.ts";
import { InputError } from "../errors.ts";
import { nearestNames, plainName } from "../names.ts";
import { EVENT_NAMES } from "./eventNames.ts";

/** Nothing adjusted: what a blank cell means. */
export const NO_ADJUST: Adjust = Object.freeze({ events: new Map<EventName, number>() });

/** Plausible body weights, N, and masses, kg, of a person with a load; wide on purpose. Common practice. */
const BODY_WEIGHTS = [50, 10000] as const;
const MASSES = [5, 1000] as const;
/** A day, s: a time that is later was meant otherwise. */
const LATEST = 86400;

/**
 * A trial's own facts from their text, for instance `bodyWeight=589; mass=61; onset=1.734; takeoff=2.479`.
 *
 * Keys are read in any case and any order; a number may have a decimal comma. A blank text adjusts nothing.
 *
 * @param text Body weight in N, mass in kg, events in s from sample zero.
 * @returns The facts; fields that were not stated are absent.
 * @throws {InputError} `unknown-name` for an unknown key, with the nearest ones.
 * @throws {InputError} `not-a-number`, `out-of-range` for a value that cannot be.
 * @throws {InputError} `wrong-shape` for a key stated twice or a part without `=`.
 */
export function parseAdjust(text: string): Adjust {
  const trimmed = String(text ?? "").trim();
  if (trimmed === "" || trimmed === "0") return NO_ADJUST;
  const facts = new Map<string, number>();
  for (const part of trimmed.split(/[;\n]/)) {
    if (part.trim() === "") continue;
    const at = part.indexOf("=");
    if (at < 0) throw new InputError("wrong-shape", `an adjustment requires key=value, not “${part.trim()}”`);
    const key = keyOf(part.slice(0, at).trim());
    if (facts.has(key)) throw new InputError("wrong-shape", `an adjustment requires each key once; ${key} is stated twice`);
    facts.set(key, numberOf(key, part.slice(at + 1).trim()));
  }
  const bodyWeight = facts.get("bodyWeight");
  const mass = facts.get("mass");
  const events = new Map<EventName, number>();
  for (const name of EVENT_NAMES) {
    const time = facts.get(name);
    if (time !== undefined) events.set(name, time);
  }
  return { ...(bodyWeight === undefined ? {} : { bodyWeight }), ...(mass === undefined ? {} : { mass }), events };
}

const KEYS: readonly string[] = ["bodyWeight", "mass", ...EVENT_NAMES];

function keyOf(typed: string): string {
  const key = KEYS.find((candidate) => plainName(candidate) === plainName(typed));
  if (key !== undefined) return key;
  throw new InputError("unknown-name", `an adjustment requires a known key, not “${typed}”; nearest: ${nearestNames(typed, KEYS).join(", ")}`);
}

function numberOf(key: string, typed: string): number {
  if (!/^[+-]?(\d+([.,]\d*)?|[.,]\d+)(e[+-]?\d+)?$/i.test(typed)) {
    throw new InputError("not-a-number", `an adjustment requires a number in ${key}=, not “${typed}”`);
  }
  const value = Number(typed.replace(",", "."));
  if (key === "bodyWeight") return within(key, value, BODY_WEIGHTS, "N");
  if (key === "mass") return within(key, value, MASSES, "kg");
  return within(key, value, [0, LATEST], "s");
}

function within(key: string, value: number, [least, most]: readonly [number, number], unit: string): number {
  if (value >= least && value <= most) return value;
  throw new InputError("out-of-range", `an adjustment requires ${key} from ${least} to ${most} ${unit}, not ${value}`);
}
