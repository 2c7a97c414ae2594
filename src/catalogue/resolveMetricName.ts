import { InputError } from "../errors.ts";
import { nearestNames } from "../names.ts";
import type { MetricDefinition } from "./MetricDefinition.ts";
import { METRICS } from "./metrics.ts";
import { isUnit, unitForm, unitsOf } from "./units.ts";

/** A metric name, taken apart. */
export interface ResolvedMetric {
  /** Canonical id with its forms, without the unit: `peakForceLeftRelative`. */
  readonly id: string;
  readonly base: MetricDefinition;
  readonly side?: "Left" | "Right";
  /** Per kilogram of body mass, without the load. */
  readonly relative: boolean;
  /** Less body weight. */
  readonly net: boolean;
  /** Left against right, in percent, positive when left is higher. */
  readonly asymmetry: boolean;
  /** Unit as printed. */
  readonly unit: string;
  /** SI value x factor = value in `unit`. */
  readonly factor: number;
}

/** Other words of the literature for a metric, in the compact form that names are compared in. */
const ALIASES: Readonly<Record<string, string>> = {
  systemweight: "bodyWeight",
  height: "jumpHeight",
  jumpheightimpulse: "jumpHeightTakeoffVelocity",
  jumpheighttov: "jumpHeightTakeoffVelocity",
  jumpheightft: "jumpHeightFlightTime",
  contractiontime: "timeToTakeoff",
  rsimod: "rsiModified",
  modifiedreactivestrengthindex: "rsiModified",
  reactivestrengthindexmodified: "rsiModified",
  reactivestrengthindex: "rsi",
  flighttimetocontractiontimeratio: "flightTimeToTakeoffTimeRatio",
  flighttimetocontacttimeratio: "flightToContactRatio",
  groundcontacttime: "contactTime",
  realdropheight: "measuredDropHeight",
  depth: "countermovementDepth",
  peakpowerpropulsion: "peakPower",
  maximumforce: "peakForce",
  maximumpower: "peakPower",
  maximumvelocity: "peakVelocity",
  maximumrateofforcedevelopment: "maximumRfd",
  peakrfd: "maximumRfd",
  brakingrateofforcedevelopment: "brakingRfd",
  verticalstiffness: "contactStiffness",
  pretension: "preTensionForce",
  best5rsi: "bestFiveRsi",
  last5rsi: "lastFiveRsi",
};

const compact = (text: string): string =>
  text
    .toLowerCase()
    // Windows written as 0-100 or 0–100 ms.
    .replace(/(\d)\s*[-–]\s*(\d)/g, "$1to$2")
    .replace(/[\s_\-–,.:()[\]]/g, "")
    .replace(/ization/g, "isation")
    .replace(/rateofforcedevelopment/g, "rfd")
    .replace(/^forceat(\d)/, "force$1");

const bases: ReadonlyMap<string, MetricDefinition> = new Map([
  ...Object.entries(ALIASES).map(([alias, id]) => [alias.replace(/rateofforcedevelopment/g, "rfd"), entry(id)] as const),
  // The printed name is accepted too; the id wins where both read alike.
  ...METRICS.map((metric) => [compact(metric.name), metric] as const),
  ...METRICS.map((metric) => [compact(metric.id), metric] as const),
]);

function entry(id: string): MetricDefinition {
  return METRICS.find((metric) => metric.id === id)!;
}

const cache = new Map<string, ResolvedMetric>();
const CACHE_LIMIT = 2000;

/**
 * A metric name as a person writes it: any case, spaces, underscores or hyphens, American spelling, a side and forms,
 * and a unit at the end, for instance `jumpHeight cm`, `peak force left relative` or `time_to_stabilization ms`.
 *
 * @param text Name, with or without a unit, no unit.
 * @returns The metric, its forms, and the unit with its factor (unit over SI unit).
 * @throws {InputError} `unknown-name` with the nearest ids, or the forms or units that exist.
 */
export function resolveMetricName(text: string): ResolvedMetric {
  const known = cache.get(text);
  if (known) return known;
  const resolved = resolve(text);
  if (cache.size >= CACHE_LIMIT) cache.clear();
  cache.set(text, resolved);
  return resolved;
}

function resolve(text: string): ResolvedMetric {
  const words = text.trim().split(/[\s_]+/).flatMap((word) => word.split(/(?=[([])/));
  let otherUnit: { readonly found: Parts; readonly unit: string } | undefined;
  // The longest name first; a unit may be written in several words ("N s").
  for (let unitWords = 0; unitWords <= Math.min(3, words.length - 1); unitWords++) {
    const found = parts(words.slice(0, words.length - unitWords).join(" "));
    if (!found) continue;
    checkForms(found);
    const si = unitOf(found);
    if (unitWords === 0) return assemble(found, si, 1);
    const unit = words.slice(words.length - unitWords).join(" ");
    const form = unitForm(si, unit);
    if (form) return assemble(found, form.unit, form.factor);
    // "force 50 ms" reads as a metric with a window: only a unit that is one is refused as a unit.
    otherUnit ??= { found, unit };
  }
  if (otherUnit) {
    const { found, unit } = otherUnit;
    const choices = unitsOf(unitOf(found)).join(", ") || "no unit";
    const what = isUnit(unit) ? `the unit ${unit.replace(/[()[\]]/g, "")} is not one of its units` : `"${unit}" is not known`;
    throw new InputError("unknown-name", `${found.base.id} requires one of ${choices} after the name; ${what}`);
  }
  const near = compact(text) ? nearestNames(compact(text), METRICS.map(({ id }) => id)) : [];
  throw new InputError(
    "unknown-name",
    `a metric requires a known name; "${text.trim().slice(0, 60)}" is not one${near.length ? `, the nearest are ${near.join(", ")}` : ""}`,
  );
}

interface Parts {
  readonly base: MetricDefinition;
  readonly side?: "Left" | "Right";
  readonly relative: boolean;
  readonly net: boolean;
  readonly asymmetry: boolean;
}

/** Takes the forms off the end (and a side off the front) until a known name is left. */
function parts(text: string): Parts | undefined {
  let rest = compact(text);
  let side: "Left" | "Right" | undefined;
  let relative = false;
  let net = false;
  let asymmetry = false;
  for (;;) {
    const base = bases.get(rest);
    if (base) return { base, side, relative, net, asymmetry };
    const suffix = /(asymmetry|relative|perkilogram|perkg|net|left|right)$/.exec(rest)?.[1];
    if (suffix === "asymmetry" && !asymmetry) asymmetry = true;
    else if ((suffix === "relative" || suffix === "perkilogram" || suffix === "perkg") && !relative) relative = true;
    else if (suffix === "net" && !net) net = true;
    else if ((suffix === "left" || suffix === "right") && !side) side = suffix === "left" ? "Left" : "Right";
    else {
      const prefix = side ? undefined : /^(left|right)/.exec(rest)?.[1];
      if (!prefix) return undefined;
      side = prefix === "left" ? "Left" : "Right";
      rest = rest.slice(prefix.length);
      continue;
    }
    rest = rest.slice(0, rest.length - suffix!.length);
  }
}

function checkForms({ base, side, relative, net, asymmetry }: Parts): void {
  const refuse = (condition: string): never => {
    throw new InputError("unknown-name", `${base.id} requires ${condition}`);
  };
  if (side && !base.forms.sides) refuse("a name without a side; it is a metric of the whole body");
  if (relative && !base.forms.relative) refuse("a name without Relative; it has no form per kilogram");
  if (net && !base.forms.net) refuse("a name without Net; it has no form less body weight");
  if (asymmetry && !base.forms.asymmetry) refuse("a name without Asymmetry; it has no left and right");
  if (net && side) refuse("either Net or a side; the forces of a side are gross");
  if (asymmetry && (side || relative || net)) refuse("Asymmetry alone, without a side, Relative or Net");
}

const unitOf = ({ base, relative, asymmetry }: Parts): string => (asymmetry ? "%" : relative ? `${base.unit}/kg` : base.unit);

function assemble(found: Parts, unit: string, factor: number): ResolvedMetric {
  const { base, side, relative, net, asymmetry } = found;
  const id = `${base.id}${side ?? ""}${net ? "Net" : ""}${relative ? "Relative" : ""}${asymmetry ? "Asymmetry" : ""}`;
  return Object.freeze({ id, base, ...(side ? { side } : {}), relative, net, asymmetry, unit, factor });
}
