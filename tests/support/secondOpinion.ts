import { PlainForce } from "../reference/plainAnalysis.ts";
import { analyse } from "../../src/protocols/analyse.ts";
import type { Analysis, EventName } from "../../src/protocols/Analysis.ts";
import { parseAdjust } from "../../src/protocols/parseAdjust.ts";
import { parseProtocol } from "../../src/protocols/parseProtocol.ts";
import { DEFAULT_SETTINGS } from "../../src/settings/defaultSettings.ts";
import { settingsFrom } from "../../src/settings/settingsFrom.ts";
import type { PlateRole, Trace } from "../../src/trace/Trace.ts";
import { SOURCES, type Source } from "../../src/uncertainty/sources.ts";

// For tests that hold an analysis against a second opinion: traces by hand, one call for the analysis, plain forces with their zero taken
// off again, and what differs as a list of lines that is empty where all is well.

/** A setting by its id, as in the table of the settings. */
export type Choice = readonly [id: string, value: string | number];

/** What was asked besides the trace. */
export interface Asked {
  /** As written in a cell: `CMJ limb=left load=20`. */
  readonly protocol: string;
  /** As written in a cell: `onset=1.2; bodyWeight=700`. */
  readonly adjust?: string;
  readonly choices?: readonly Choice[];
}

/** A trace from plain numbers: force by the role of its plate, N. */
export function traceOf(forces: Readonly<Partial<Record<PlateRole, ArrayLike<number>>>>, rate: number, more: Partial<Pick<Trace, "start" | "step" | "rounding">> = {}): Trace {
  const plates = Object.entries(forces).map(([role, force]) => ({ role: role as PlateRole, force: Float64Array.from(force) }));
  return { rate, plates, start: 0, step: 0, rounding: 0, ...more };
}

/** The same trace with each force changed: by its value, its time in s and its role. */
export function changed(trace: Trace, change: (force: number, time: number, role: PlateRole) => number): Trace {
  return { ...trace, plates: trace.plates.map(({ role, force }) => ({ role, force: force.map((f, i) => change(f, i / trace.rate, role)) })) };
}

/** The analysis of a trace by texts, as a cell would ask for it. */
export function analysed(trace: Trace, { protocol, adjust = "", choices = [] }: Asked): Analysis {
  return analyse(trace, parseProtocol(protocol), choices.length === 0 ? DEFAULT_SETTINGS : settingsFrom(choices), parseAdjust(adjust));
}

/** Time of an event of an analysis, s; it has to be there. */
export function eventAt(analysis: Analysis, name: EventName): number {
  const event = analysis.events.get(name);
  if (event === undefined) throw new Error(`the analysis has no event ${name}`);
  return event.time;
}

/** Force of the named plates together, or of all, N. */
export function plainForceOf(trace: Trace, roles?: readonly PlateRole[]): PlainForce {
  const plates = trace.plates.filter(({ role }) => roles === undefined || roles.includes(role));
  return new PlainForce(Array.from(plates[0]!.force, (_, i) => plates.reduce((sum, { force }) => sum + force[i]!, 0)), trace.rate);
}

/** A force with a constant taken off. */
export function less(force: PlainForce, zero: number): PlainForce {
  return new PlainForce(force.samples.map((f) => f - zero), force.rate);
}

/** Mean of the samples between two times, both ends at least `inside` away, N. */
export function meanInside(force: PlainForce, from: number, to: number, inside = 0): number {
  const samples = force.samples.slice(Math.ceil((from + inside) * force.rate - 1e-9), Math.ceil((to - inside) * force.rate - 1e-9));
  return samples.reduce((sum, f) => sum + f, 0) / samples.length;
}

/** How near two numbers must be: a share of the expected one, and a number in its unit. */
export interface Nearness {
  readonly relative: number;
  readonly absolute: number;
}

/** How near a metric must be by its id. */
export type Near = Nearness | ((id: string) => Nearness);

/**
 * Where an analysis differs from expected values by metric id, one line each. A metric that only one of both has is a line too, unless
 * `unseen` says that its id is not looked at.
 */
export function differences(analysis: Analysis, expected: Readonly<Record<string, number>>, near: Near, unseen: (id: string) => boolean = () => false): string[] {
  const lines: string[] = [];
  for (const [id, value] of Object.entries(expected)) {
    if (unseen(id)) continue;
    const got = analysis.metrics.get(id)?.value;
    if (got === undefined) lines.push(`${id} is missing: ${analysis.missing.get(id) ?? "no reason"}`);
    else if (!isNear(got, value, typeof near === "function" ? near(id) : near)) lines.push(`${id} is ${got}, not ${value}`);
  }
  for (const id of analysis.metrics.keys()) if (!(id in expected) && !unseen(id)) lines.push(`${id} is not expected`);
  return lines;
}

function isNear(got: number, expected: number, { relative, absolute }: Nearness): boolean {
  return Math.abs(got - expected) <= relative * Math.abs(expected) + absolute;
}

/** One influence on the results of a model: JCGM 100 (2008), 5.1.3. */
export interface Influence<Inputs> {
  readonly source: Source;
  /** Its standard uncertainty. */
  readonly u: number;
  /** The inputs with this influence moved by so much. */
  readonly moved: (inputs: Inputs, by: number) => Inputs;
  /** How far it is moved in both directions to find the slope; as far as its uncertainty where absent. */
  readonly step?: number;
}

/** Contributions to the standard uncertainty of each result, by metric id and source; signed. */
export type Budget = Readonly<Record<string, Readonly<Partial<Record<Source, number>>>>>;

/**
 * The budget of a plain model: the slope of each of its results by each influence, found by moving it in both directions (JCGM 100 (2008), 5.1.3,
 * note 2), times its standard uncertainty. Influences of one source add up with their signs.
 */
export function budgetOf<Inputs>(model: (inputs: Inputs) => Readonly<Record<string, number>>, inputs: Inputs, influences: readonly Influence<Inputs>[]): Budget {
  const budget: Record<string, Partial<Record<Source, number>>> = {};
  for (const id of Object.keys(model(inputs))) budget[id] = {};
  for (const { source, u, moved, step = u } of influences) {
    if (u === 0) continue;
    const more = model(moved(inputs, step));
    const fewer = model(moved(inputs, -step));
    for (const [id, parts] of Object.entries(budget)) parts[source] = (parts[source] ?? 0) + ((more[id]! - fewer[id]!) / (2 * step)) * u;
  }
  return budget;
}

/**
 * Where the budgets of an analysis differ from expected ones, one line for each metric and source. What is less than a thousandth of the whole on
 * both sides is none.
 *
 * @param sources The sources that are compared; all where absent.
 */
export function budgetDifferences(analysis: Analysis, expected: Budget, relative: number, unseen: (id: string, source: Source) => boolean = () => false, sources: readonly Source[] = SOURCES): string[] {
  const lines: string[] = [];
  for (const [id, parts] of Object.entries(expected)) {
    const metric = analysis.metrics.get(id);
    if (metric === undefined) {
      lines.push(`${id} is missing`);
      continue;
    }
    const whole = Math.max(metric.u ?? 0, Math.hypot(...Object.values(parts)));
    for (const source of sources) {
      if (unseen(id, source)) continue;
      const got = metric.budget?.find((one) => one.source === source)?.u ?? 0;
      const should = Math.abs(parts[source] ?? 0);
      if (Math.abs(got - should) > Math.max(relative * should, 1e-3 * whole)) lines.push(`${id} has ${got} of ${source}, not ${should}`);
    }
  }
  return lines;
}

/** Findings as `rule action`, in the order of the analysis; `not checked` is left out. */
export function findingsOf(analysis: Analysis): string[] {
  return analysis.findings.filter(({ action }) => action !== "not checked").map(({ rule, action }) => `${rule} ${action}`);
}
