import type { Analysis, MetricValue } from "./Analysis.ts";
import { combinedMetric, WorkedMetric } from "./workings.ts";
import type { ResolvedMetric } from "../catalogue/resolveMetricName.ts";
import { unitUnder } from "../catalogue/unitUnder.ts";
import { InputError } from "../errors.ts";
import { asymmetry } from "../metrics/asymmetry.ts";

/**
 * One metric of an analysis, in one of its forms: a side, net of body weight, per kilogram of body mass (without the
 * load), or the asymmetry of the sides. Uncertainties that two parts share are propagated through both.
 *
 * @param analysis The analysis.
 * @param name The metric and its form.
 * @returns Value in the SI unit of the form, with its standard uncertainty where there is one.
 * @throws {InputError} `not-available` with the reason where the trace cannot give it.
 */
export function readMetric(analysis: Analysis, name: ResolvedMetric): MetricValue {
  const { base, side, relative, net } = name;
  if (name.factor !== 1 && unitUnder(name, analysis.settings) !== name.unit) {
    throw new InputError("not-available", `${name.id} requires the setting rsi-basis = height to have the unit ${name.unit}; by flight time it has none`);
  }
  if (name.asymmetry) return ofSides(analysis, name);
  const plain = part(analysis, `${base.id}${side ?? ""}`, base.id);
  if (!relative && !net) return plain;
  let value = plain;
  if (net) value = derived(name.id, base.unit, value, part(analysis, "bodyWeight"), (f, w) => f - w);
  if (relative) value = derived(name.id, `${base.unit}/kg`, value, part(analysis, "bodyMass"), (f, m) => f / m);
  return value;
}

function ofSides(analysis: Analysis, { id, base }: ResolvedMetric): MetricValue {
  const left = part(analysis, `${base.id}Left`, base.id);
  const right = part(analysis, `${base.id}Right`, base.id);
  if (!(left.value > 0 && right.value > 0)) {
    throw new InputError("not-available", `${id} requires both sides above zero`);
  }
  const formula = String(analysis.settings.values["asymmetry-formula"]);
  return derived(id, "%", left, right, (l, r) => asymmetry(l, r, formula));
}

function part(analysis: Analysis, id: string, base = id): MetricValue {
  const found = analysis.metrics.get(id);
  if (found !== undefined) return found;
  if (id !== base && analysis.metrics.has(base)) {
    const removed = analysis.findings.find(({ removes }) => removes.includes("A"));
    throw new InputError("not-available", removed?.message ?? `${id} requires a plate under each foot`);
  }
  const reason = analysis.missing.get(base);
  throw new InputError("not-available", reason ?? `${base} requires another test than ${analysis.protocol.test}`);
}

/** A function of two metrics, with what they share in the uncertainty of both. */
function derived(id: string, unit: string, a: MetricValue, b: MetricValue, compute: (a: number, b: number) => number): MetricValue {
  const value = compute(a.value, b.value);
  if (!(a instanceof WorkedMetric) || !(b instanceof WorkedMetric)) return { id, value, unit };
  const slope = (at: (h: number) => number, x: number): number => {
    const h = 1e-5 * Math.max(Math.abs(x), 1e-6);
    return (at(h) - at(-h)) / (2 * h);
  };
  const byA = slope((h) => compute(a.value + h, b.value), a.value);
  const byB = slope((h) => compute(a.value, b.value + h), b.value);
  return combinedMetric(id, value, unit, a, byA, b, byB);
}

