import type { Adjust } from "./Adjust.ts";
import type { ById } from "./MetricTable.ts";
import type { Protocol } from "./Protocol.ts";
import type { Settings } from "../settings/Settings.ts";
import type { Trace } from "../trace/Trace.ts";

/**
 * The group of metrics a rule removes: T times, B what needs body weight, V what needs integration,
 * L landing, A sides.
 */
export type MetricGroup = "T" | "B" | "V" | "L" | "A";

/** A metric with its SI unit (as the catalogue states) and its standard uncertainty (JCGM 100). */
export interface MetricValue {
  readonly id: string;
  readonly value: number;
  readonly unit: string;
  /** Standard uncertainty in `unit`; absent where no budget exists for the metric. */
  readonly u?: number;
  /** The budget behind `u`: each contribution in `unit`. */
  readonly budget?: readonly Contribution[];
}

export interface Contribution {
  /** Key of `src/wording` for the source of uncertainty, for instance `bodyWeight`, `onset`, `sampling`. */
  readonly source: string;
  /** Contribution to the standard uncertainty, in the unit of the metric. */
  readonly u: number;
}

/** A number that went into a step, as written in the formula. */
export interface StepInput {
  /** Symbol as it stands in the formula of the step, for instance `v_TO`. */
  readonly symbol: string;
  readonly value: number;
  readonly unit: string;
  /** Metric, event or setting id the number comes from, so that the pane can link to it. */
  readonly from?: string;
}

/** One line of working: recorded by the code that computes the value, never written a second time. */
export interface Step {
  /** Metric id or event name the step gives. */
  readonly gives: string;
  /** The formula in the symbols of `inputs`, for instance `v_TO^2 / (2 g)`. */
  readonly formula: string;
  readonly inputs: readonly StepInput[];
  readonly value: number;
  readonly unit: string;
}

export type FindingAction = "note" | "corrected" | "look" | "leave out" | "not checked";

/** What a rule found. `values` fill the sentence of `src/wording`; `message` is that sentence in English. */
export interface Finding {
  /** Q1 to Q25 of the method, or a named finding such as `threshold`, `shortWeighing`, `bodyWeightGiven`. */
  readonly rule: string;
  readonly action: FindingAction;
  /** Groups of metrics that this finding removes. */
  readonly removes: readonly MetricGroup[];
  readonly message: string;
  readonly values: Readonly<Record<string, number | string>>;
}

export type Verdict = "keep" | "look" | "leave out";

/** An instant; `time` in s from sample zero of the trace (add `trace.start` for the time in the file). */
export interface TraceEvent {
  readonly name: EventName;
  readonly time: number;
  /** True where a person moved it (Adjust). */
  readonly byHand: boolean;
}

export type EventName =
  | "weighingStart"
  | "weighingEnd"
  | "onset"
  | "minimumForce"
  | "minimumVelocity"
  | "lowest"
  | "peakVelocity"
  | "takeoff"
  | "landing"
  | "landingLowest"
  | "stabilised"
  | "touchdown"
  | "holdEnd"
  | "stepOff"
  | "boxWeighingStart"
  | "boxWeighingEnd"
  | "pullOnset"
  | "peakForce";

/** A half-open stretch of the trace between two events. */
export interface Phase {
  readonly name: "weighing" | "unweighting" | "unloading" | "yielding" | "braking" | "propulsion" | "flight" | "landing" | "contact" | "fall" | "hold" | "pull";
  /** s from sample zero. */
  readonly start: number;
  readonly end: number;
}

/** One hop of a repeated hop test. */
export interface Hop {
  readonly number: number;
  readonly touchdown: number;
  readonly takeoff: number;
  readonly contactTime: number;
  readonly flightTime: number;
  readonly height: number;
  readonly rsi: number;
  readonly stiffness?: number;
  readonly peakForce: number;
  readonly valid: boolean;
  readonly reason?: string;
}

/** Columns over time, for plots and `LEAP.TIME_SERIES`; made on demand. */
export interface TimeSeries {
  readonly time: Float64Array;
  /** Corrected force of the sum, N, and of each plate. */
  readonly force: Float64Array;
  readonly left?: Float64Array;
  readonly right?: Float64Array;
  /** Absent where the trace could not be integrated. */
  readonly velocity?: Float64Array;
  readonly displacement?: Float64Array;
  readonly power?: Float64Array;
}

/** Everything one trace gives, computed once. */
export interface Analysis {
  readonly protocol: Protocol;
  readonly settings: Settings;
  readonly adjust: Adjust;
  readonly trace: Trace;
  readonly events: ReadonlyMap<EventName, TraceEvent>;
  readonly phases: readonly Phase[];
  /** Values by metric id, side forms (`…Left`, `…Right`) included; `…Relative`, `…Net`, `…Asymmetry` are read with `readMetric`. */
  readonly metrics: ById<MetricValue>;
  /** Why a metric that belongs to the test is absent: one sentence by metric id. */
  readonly missing: ReadonlyMap<string, string>;
  /** In order of severity. */
  readonly findings: readonly Finding[];
  readonly verdict: Verdict;
  readonly hops: readonly Hop[];
  readonly steps: readonly Step[];
  /** Made on first call and kept. */
  timeSeries(): TimeSeries;
}
