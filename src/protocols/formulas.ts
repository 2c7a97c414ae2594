import { dropHeightFromTouchdownVelocity } from "../metrics/dropHeightFromTouchdownVelocity.ts";
import { flightToContactRatio } from "../metrics/flightToContactRatio.ts";
import { hopPower } from "../metrics/hopPower.ts";
import { jumpHeightFromFlightTime } from "../metrics/jumpHeightFromFlightTime.ts";
import { jumpHeightFromTakeoffVelocity } from "../metrics/jumpHeightFromTakeoffVelocity.ts";
import { reactiveStrengthIndex } from "../metrics/reactiveStrengthIndex.ts";
import { reactiveStrengthIndexModified } from "../metrics/reactiveStrengthIndexModified.ts";
import { takeoffVelocityFromFlightTime } from "../metrics/takeoffVelocityFromFlightTime.ts";
import { touchdownVelocityFromDropHeight } from "../metrics/touchdownVelocityFromDropHeight.ts";
import { placeOf } from "./MetricTable.ts";
import type { Formula, FormulaSymbol } from "./workings.ts";

const G: FormulaSymbol = ["g", "m/s^2", "gravity"];
const BW: FormulaSymbol = ["BW", "N", "bodyWeight"];
const M: FormulaSymbol = ["m", "kg", "movedMass"];
const V_TO: FormulaSymbol = ["v_TO", "m/s", "takeoffVelocity"];
const T_0: FormulaSymbol = ["t_0", "s", "onset"];
const T_TO: FormulaSymbol = ["t_TO", "s", "takeoff"];
const T_LD: FormulaSymbol = ["t_LD", "s", "landing"];
const T_TD: FormulaSymbol = ["t_TD", "s", "touchdown"];
const T_LOW: FormulaSymbol = ["t_low", "s", "lowest"];
const T_VMIN: FormulaSymbol = ["t_vmin", "s", "minimumVelocity"];
const T_F: FormulaSymbol = ["t_f", "s", "flightTime"];
const T_C: FormulaSymbol = ["t_c", "s", "contactTime"];
const TTT: FormulaSymbol = ["t_TTT", "s", "timeToTakeoff"];
const Z_TO: FormulaSymbol = ["z_TO", "m", "takeoffDisplacement"];
const Z_LOW: FormulaSymbol = ["z_low", "m", "lowestDisplacement"];
const T_LLOW: FormulaSymbol = ["t_LDlow", "s", "landingLowest"];

const difference = (a: number, b: number): number => a - b;
const ratio = (a: number, b: number): number => a / b;
const copy = (a: number): number => a;

type Compute = NonNullable<Formula["compute"]>;

function measured(gives: string, unit: string, text: string, ...symbols: FormulaSymbol[]): Formula {
  return formula(gives, unit, text, symbols, false, undefined);
}
function inner(gives: string, unit: string, text: string, ...symbols: FormulaSymbol[]): Formula {
  return formula(gives, unit, text, symbols, true, undefined);
}
function computed(gives: string, unit: string, text: string, symbols: FormulaSymbol[], compute: Compute): Formula {
  return formula(gives, unit, text, symbols, false, compute);
}
function innerComputed(gives: string, unit: string, text: string, symbols: FormulaSymbol[], compute: Compute): Formula {
  return formula(gives, unit, text, symbols, true, compute);
}
/** All formulas have one layout: what reads them is faster so. */
function formula(gives: string, unit: string, text: string, symbols: readonly FormulaSymbol[], isInner: boolean, compute: Compute | undefined): Formula {
  return { gives, place: placeOf(gives), unit, text, symbols, inner: isInner, compute };
}

// Weighing and plates.
export const bodyWeight = measured("bodyWeight", "N", "mean F, t_1 <= t < t_2", ["t_1", "s", "weighingStart"], ["t_2", "s", "weighingEnd"]);
export const bodyWeightGiven = measured("bodyWeight", "N", "given by hand");
export const weighingSd = measured("weighingSd", "N", "sqrt(sum (F - BW)^2 / (n - 1))", BW);
export const bodyWeightDoubt = computed(
  "bodyWeightUncertainty",
  "N",
  "sqrt(u_window^2 + u_zero^2 + q^2 / 12)",
  [["u_window", "N"], ["u_zero", "N"], ["q", "N"]],
  (window, zero, step) => Math.sqrt(window * window + zero * zero + (step * step) / 12),
);
export const movedMass = innerComputed("movedMass", "kg", "BW / g", [BW, G], ratio);
export const bodyMass = computed("bodyMass", "kg", "BW / g - m_load", [BW, G, ["m_load", "kg", "load"]], (w, g, load) => w / g - load);
export const flightOffset = measured("flightOffset", "N", "mean F of the empty plates", ["t_1", "s"], ["t_2", "s"]);
export const driftRate = computed(
  "driftRate",
  "N/s",
  "(F_after - F_before) / (t_after - t_before)",
  [["F_after", "N"], ["F_before", "N"], ["t_after", "s"], ["t_before", "s"]],
  (after, before, end, start) => (after - before) / (end - start),
);
export const endVelocity = measured("endVelocity", "m/s", "mean v over the final stand", ["t_1", "s"], ["t_2", "s"]);

// Times and heights.
export const flightTime = computed("flightTime", "s", "t_LD - t_TO", [T_LD, T_TO], difference);
export const flightTimeGiven = measured("flightTime", "s", "as recorded");
export const contactTimeGiven = measured("contactTime", "s", "as recorded");
export const timeToTakeoff = computed("timeToTakeoff", "s", "t_TO - t_0", [T_TO, T_0], difference);
export const contactTime = computed("contactTime", "s", "t_TO - t_TD", [T_TO, T_TD], difference);
export const takeoffVelocity = measured("takeoffVelocity", "m/s", "g (integral of F dt / BW - (t_TO - t_0))", G, BW, T_0, T_TO);
export const takeoffVelocityDrop = measured("takeoffVelocity", "m/s", "v_TD + g (integral of F dt / BW - (t_TO - t_TD))", ["v_TD", "m/s", "touchdownVelocity"], G, BW, T_TD, T_TO);
export const takeoffVelocityOfFlight = computed(
  "takeoffVelocity",
  "m/s",
  "g t_f / 2",
  [T_F, G, ["posture", "m/s", "landing-posture-u"]],
  (t, g, posture) => takeoffVelocityFromFlightTime(t, g) + posture,
);
export const heightOfVelocity = computed("jumpHeightTakeoffVelocity", "m", "v_TO^2 / (2 g)", [V_TO, G], jumpHeightFromTakeoffVelocity);
export const heightOfFlight = computed("jumpHeightFlightTime", "m", "g t_f^2 / 8", [T_F, G], jumpHeightFromFlightTime);
export const heightOfFlightWithPosture = computed(
  "jumpHeightFlightTime",
  "m",
  "g t_f^2 / 8",
  [T_F, G, ["posture", "m", "landing-posture-u"]],
  (t, g, posture) => jumpHeightFromFlightTime(t, g) + posture,
);
export const heightAboveStanding = computed(
  "jumpHeightAboveStanding",
  "m",
  "h + z_TO",
  [["h", "m", "jumpHeightTakeoffVelocity"], Z_TO],
  (h, z) => h + z,
);
export const jumpHeight: Readonly<Record<string, Formula>> = {
  "take-off velocity": computed("jumpHeight", "m", "h from take-off velocity", [["h", "m", "jumpHeightTakeoffVelocity"]], copy),
  "flight time": computed("jumpHeight", "m", "h from flight time", [["h", "m", "jumpHeightFlightTime"]], copy),
  "above standing": computed("jumpHeight", "m", "h above standing", [["h", "m", "jumpHeightAboveStanding"]], copy),
};
export const heightDifference = computed(
  "heightDifference",
  "m",
  "h_flight - h_velocity",
  [["h_flight", "m", "jumpHeightFlightTime"], ["h_velocity", "m", "jumpHeightTakeoffVelocity"]],
  difference,
);
export const rsiModified = computed("rsiModified", "m/s", "h / t_TTT", [["h", "m", "jumpHeight"], TTT], (h, t) => reactiveStrengthIndexModified(Math.max(0, h), t));
export const flightToTakeoffTime = computed("flightTimeToTakeoffTimeRatio", "", "t_f / t_TTT", [T_F, TTT], ratio);

// Velocity and displacement.
export const peakVelocity = measured("peakVelocity", "m/s", "max v, t < t_TO", T_TO);
export const minimumVelocity = measured("minimumVelocity", "m/s", "min v, t_0 <= t < t_TO", T_0, T_TO);
export const takeoffDisplacement = measured("takeoffDisplacement", "m", "integral of v dt", T_0, T_TO);
export const lowestDisplacement = inner("lowestDisplacement", "m", "integral of v dt up to t_low", T_0, T_LOW);
export const countermovementDepth = computed("countermovementDepth", "m", "z_low", [Z_LOW], copy);
export const pushOffDistance = computed("pushOffDistance", "m", "z_TO - z_low", [Z_TO, Z_LOW], difference);
export const brakingDisplacement = computed("brakingDisplacement", "m", "z_low - z_1", [Z_LOW, ["z_1", "m"]], difference);
export const propulsionDisplacement = computed("propulsionDisplacement", "m", "z_TO - z_1", [Z_TO, ["z_1", "m"]], difference);
export const meanVelocityBraking = computed(
  "meanVelocityBraking",
  "m/s",
  "dz / t",
  [["dz", "m", "brakingDisplacement"], ["t", "s", "brakingTime"]],
  ratio,
);
export const meanVelocityPropulsion = computed(
  "meanVelocityPropulsion",
  "m/s",
  "dz / t",
  [["dz", "m", "propulsionDisplacement"], ["t", "s", "propulsionTime"]],
  ratio,
);

// Phases.
export const unweightingTime = computed("unweightingTime", "s", "t_vmin - t_0", [T_VMIN, T_0], difference);
export const brakingTime = computed("brakingTime", "s", "t_low - t_vmin", [T_LOW, T_VMIN], difference);
export const brakingTimeDrop = computed("brakingTime", "s", "t_low - t_TD", [T_LOW, T_TD], difference);
export const propulsionTime = computed("propulsionTime", "s", "t_TO - t_low", [T_TO, T_LOW], difference);
export const propulsionTimeSquat = computed("propulsionTime", "s", "t_TO - t_0", [T_TO, T_0], difference);

/** A metric of one phase, of the sum and of each side. */
export interface PhaseFormulas {
  readonly sum: Formula;
  readonly left: Formula;
  readonly right: Formula;
}

function sided(gives: string, unit: string, text: string, sideText: string, ...symbols: FormulaSymbol[]): PhaseFormulas {
  return {
    sum: measured(gives, unit, text, ...symbols),
    left: measured(`${gives}Left`, unit, sideText.replaceAll("F", "F_L"), ...symbols),
    right: measured(`${gives}Right`, unit, sideText.replaceAll("F", "F_R"), ...symbols),
  };
}

const SPAN: FormulaSymbol[] = [["t_1", "s"], ["t_2", "s"]];
function peakOf(gives: string): PhaseFormulas {
  return sided(gives, "N", "max F, t_1 <= t <= t_2", "max F, t_1 <= t <= t_2", ...SPAN);
}
function meanOf(gives: string): PhaseFormulas {
  return sided(gives, "N", "integral of F dt / (t_2 - t_1)", "integral of F dt / (t_2 - t_1)", ...SPAN);
}
function impulseOf(gives: string): PhaseFormulas {
  return {
    sum: computed(gives, "N s", "m (v_2 - v_1)", [M, ["v_2", "m/s"], ["v_1", "m/s"]], (m, v2, v1) => m * (v2 - v1)),
    left: measured(`${gives}Left`, "N s", "integral of F_L dt", ...SPAN),
    right: measured(`${gives}Right`, "N s", "integral of F_R dt", ...SPAN),
  };
}
function valueOf(gives: string, text: string, ...symbols: FormulaSymbol[]): PhaseFormulas {
  return sided(gives, "N", text, text, ...symbols);
}

export const minimumForce = sided("minimumForce", "N", "min F, t_1 <= t <= t_2", "min F, t_1 <= t <= t_2", ...SPAN);
export const peakForce = peakOf("peakForce");
export const peakForceBraking = peakOf("peakForceBraking");
export const peakForcePropulsion = peakOf("peakForcePropulsion");
export const meanForceUnweighting = meanOf("meanForceUnweighting");
export const meanForceBraking = meanOf("meanForceBraking");
export const meanForcePropulsion = meanOf("meanForcePropulsion");
export const forceAtZeroVelocity = valueOf("forceAtZeroVelocity", "F(t_low)", T_LOW);
export const unweightingImpulse = impulseOf("unweightingImpulse");
export const brakingImpulse = impulseOf("brakingImpulse");
export const propulsionImpulse = impulseOf("propulsionImpulse");
export const forceAtMinimumVelocity = inner("forceAtMinimumVelocity", "N", "F(t_vmin)", T_VMIN);

// Power, rates, stiffness.
export const peakPower = measured("peakPower", "W", "max F v, t_1 <= t < t_2", ...SPAN);
export const minimumPowerBraking = measured("minimumPowerBraking", "W", "min F v, t_1 <= t < t_2", ...SPAN);

/** Work on the centre of mass per kilogram, then mean power: `m (v_2^2 - v_1^2) / 2 + m g dz` over time. */
const workPerMass: Compute = (v2, v1, g, dz) => 0.5 * (v2 * v2 - v1 * v1) + g * dz;
function workOver(gives: string, dz: string): Formula {
  return innerComputed(gives, "J/kg", "(v_2^2 - v_1^2) / 2 + g dz", [["v_2", "m/s"], ["v_1", "m/s"], G, ["dz", "m", dz]], workPerMass);
}
export const propulsionWork = workOver("propulsionWork", "propulsionDisplacement");
export const brakingWork = workOver("brakingWork", "brakingDisplacement");
const perTime = (m: number, work: number, t: number): number => (m * work) / t;
export const meanPowerPropulsion = computed(
  "meanPowerPropulsion",
  "W",
  "m w / t",
  [M, ["w", "J/kg", "propulsionWork"], ["t", "s", "propulsionTime"]],
  perTime,
);
export const meanPowerBraking = computed(
  "meanPowerBraking",
  "W",
  "m w / t",
  [M, ["w", "J/kg", "brakingWork"], ["t", "s", "brakingTime"]],
  perTime,
);
export const brakingRfd = computed(
  "brakingRfd",
  "N/s",
  "(F(t_low) - F(t_vmin)) / t",
  [["F(t_low)", "N", "forceAtZeroVelocity"], ["F(t_vmin)", "N", "forceAtMinimumVelocity"], ["t", "s", "brakingTime"]],
  (f2, f1, t) => (f2 - f1) / t,
);
export const maximumRfd = measured("maximumRfd", "N/s", "max (F(t + w) - F(t)) / w", ["w", "s", "rfd-window"], ["t_1", "s"], ["t_2", "s"]);
const F_LOW: FormulaSymbol = ["F_low", "N", "forceAtZeroVelocity"];
export const countermovementStiffness: Readonly<Record<string, Formula>> = {
  net: computed("countermovementStiffness", "N/m", "(F_low - BW) / |z_low|", [F_LOW, BW, Z_LOW], (f, w, z) => (f - w) / Math.abs(z)),
  gross: computed("countermovementStiffness", "N/m", "F_low / |z_low|", [F_LOW, Z_LOW], (f, z) => f / Math.abs(z)),
  "braking change": computed(
    "countermovementStiffness",
    "N/m",
    "(F_low - F(t_vmin)) / |dz|",
    [F_LOW, ["F(t_vmin)", "N", "forceAtMinimumVelocity"], ["dz", "m", "brakingDisplacement"]],
    (f2, f1, dz) => (f2 - f1) / Math.abs(dz),
  ),
};

// Squat jump.
export const dipFraction = measured("dipFraction", "", "(BW - min F) / BW", BW, ["t_1", "s", "holdEnd"], ["t_2", "s", "onset"]);

// Landing.
export const peakLandingForce = peakOf("peakLandingForce");
export const timeToPeakLandingForce = computed("timeToPeakLandingForce", "s", "t_peak - t_LD", [["t_peak", "s"], T_LD], difference);
export const landingLoadingRate = computed(
  "landingLoadingRate",
  "N/s",
  "F_LD / t",
  [["F_LD", "N", "peakLandingForce"], ["t", "s", "timeToPeakLandingForce"]],
  ratio,
);
export const landingLoadingRateSlope = measured("landingLoadingRate", "N/s", "slope between 20 and 80 % of F_LD", ["F_LD", "N", "peakLandingForce"]);
export const landingVelocity = measured("landingVelocity", "m/s", "v(t_LD)", T_LD);
export const landingTime = computed("landingTime", "s", "t_LDlow - t_LD", [T_LLOW, T_LD], difference);
export const landingDepth = computed("landingDepth", "m", "z(t_LDlow) - z(t_LD)", [["z_2", "m"], ["z_1", "m"]], difference);
export const landingImpulse = impulseOf("landingImpulse");
export const timeToStabilisation = computed("timeToStabilisation", "s", "t_s - t_LD", [["t_s", "s", "stabilised"], T_LD], difference);

// Drop jump.
export const touchdownVelocityBackward = measured("touchdownVelocity", "m/s", "-g (integral of F dt / BW - (t_E - t_TD)), v(t_E) = 0", G, BW, T_TD, ["t_E", "s"]);
export const touchdownVelocityOfFlight = measured("touchdownVelocity", "m/s", "v_TO - g (integral of F dt / BW - (t_TO - t_TD))", V_TO, G, BW, T_TD, T_TO);
export const touchdownVelocityOfBox = computed("touchdownVelocity", "m/s", "-sqrt(2 g h_box)", [["h_box", "m", "nominalDropHeight"], G], touchdownVelocityFromDropHeight);
export const touchdownVelocityOfPlates = computed(
  "touchdownVelocity",
  "m/s",
  "v_leave - g (t_TD - t_leave)",
  [["v_leave", "m/s"], G, T_TD, ["t_leave", "s", "stepOff"]],
  (v, g, touchdown, leave) => v - g * (touchdown - leave),
);
export const leavingVelocity = inner("leavingVelocity", "m/s", "g (integral of F_box dt / BW_box - (t_leave - t_0))", G, ["BW_box", "N"], T_0, ["t_leave", "s", "stepOff"]);
export const measuredDropHeight = computed(
  "measuredDropHeight",
  "m",
  "v_TD^2 / (2 g)",
  [["v_TD", "m/s", "touchdownVelocity"], G],
  dropHeightFromTouchdownVelocity,
);
export const nominalDropHeight = measured("nominalDropHeight", "m", "as stated in the protocol");
export const rsiOfHeight = computed("rsi", "m/s", "h / t_c", [["h", "m"], T_C], reactiveStrengthIndex);
export const rsiOfFlight = computed("rsi", "", "t_f / t_c", [T_F, T_C], flightToContactRatio);
export const flightToContact = computed("flightToContactRatio", "", "t_f / t_c", [T_F, T_C], flightToContactRatio);
export const impactPeakForce = peakOf("impactPeakForce");
export const secondPeakForce = peakOf("secondPeakForce");
export const contactStiffness = computed(
  "contactStiffness",
  "N/m",
  "F / |z_low - z_TD|",
  [["F", "N"], Z_LOW, ["z_TD", "m"]],
  (f, low, touchdown) => f / Math.abs(low - touchdown),
);

// Repeated hops.
const HOPS: FormulaSymbol = ["n", "", "hopCount"];
const hopMean = (gives: string, unit: string, what: string): Formula => measured(gives, unit, `mean of ${what} over the hops that count`, HOPS);
export const hopCount = measured("hopCount", "", "contacts between two flights that count");
/** Reactive strength of several hops: by height, in m/s, and by flight time, without a unit. */
function hopRsi(gives: string, what: (index: string) => string): Readonly<Record<"height" | "flight", Formula>> {
  return { height: measured(gives, "m/s", what("h / t_c"), HOPS), flight: measured(gives, "", what("t_f / t_c"), HOPS) };
}
export const bestFiveRsi = hopRsi("bestFiveRsi", (index) => `mean of the five largest ${index}`);
export const lastFiveRsi = hopRsi("lastFiveRsi", (index) => `mean of the last five ${index}`);
export const meanHopRsi = hopRsi("meanHopRsi", (index) => `mean of ${index} over all valid hops`);
export const meanContactTime = hopMean("meanContactTime", "s", "t_TO - t_TD");
export const meanFlightTime = hopMean("meanFlightTime", "s", "t_LD - t_TO");
export const meanHopHeight = hopMean("meanHopHeight", "m", "g t_f^2 / 8");
export const hopStiffness = hopMean("hopStiffness", "N/m", "F_max / |z_low - z_TD|");
export const hopPowerFromTimes = computed(
  "hopPowerFromTimes",
  "W/kg",
  "g^2 T_f T / (4 n (T - T_f))",
  [["T", "s"], ["T_f", "s"], ["n", ""], G],
  (total, flight, hops, g) => hopPower(total, flight, Math.round(hops), g),
);

// Isometric pull.
const T_PULL: FormulaSymbol = ["t_0", "s", "pullOnset"];
const F_BASE: FormulaSymbol = ["F_b", "N", "baselineForce"];
export const baselineForce = sided("baselineForce", "N", "mean F, t_1 <= t < t_2", "mean F, t_1 <= t < t_2", ...SPAN);
export const preTensionForce = computed("preTensionForce", "N", "F_b - BW", [F_BASE, BW], difference);
export const timeToPeakForce = computed("timeToPeakForce", "s", "t(F_max) - t_0", [["t(F_max)", "s", "peakForce"], T_PULL], difference);
export const forceAtOnset = inner("forceAtPullOnset", "N", "F(t_0)", T_PULL);
export const FORCE_TIMES = [50, 90, 100, 150, 200, 250] as const;
export const RFD_WINDOWS = [[0, 50], [0, 100], [0, 150], [0, 200], [0, 250], [50, 100], [100, 200]] as const;
export const IMPULSE_TIMES = [100, 200, 250] as const;
export const forceAfter: ReadonlyMap<number, PhaseFormulas> = new Map(
  FORCE_TIMES.map((ms) => [ms, valueOf(`force${ms}ms`, `F(t_0 + ${ms} ms)`, T_PULL)] as const),
);
export const rfdBetween: readonly { readonly from: number; readonly to: number; readonly formula: Formula }[] = RFD_WINDOWS.map(([from, to]) => ({
  from,
  to,
  formula: computed(
    `rfd${from}to${to}`,
    "N/s",
    "(F_2 - F_1) / w",
    [["F_2", "N"], ["F_1", "N"], ["w", "s"], ["noise", "N"]],
    (f2, f1, w, noise) => (f2 - f1 + noise) / w,
  ),
}));
export const impulseAfter: ReadonlyMap<number, PhaseFormulas> = new Map(
  IMPULSE_TIMES.map((ms) => {
    const text = `integral of (F - F_0) dt, t_0 <= t < t_0 + ${ms} ms`;
    return [ms, sided(`impulse0to${ms}`, "N s", text, `integral of F dt, t_0 <= t < t_0 + ${ms} ms`, T_PULL)] as const;
  }),
);
export const peakPull = sided("peakForce", "N", "max F, t >= t_0", "max F, t >= t_0", ...SPAN);
export const maximumRfdPull = measured("maximumRfd", "N/s", "max (F(t + w) - F(t)) / w", ["w", "s", "isometric-rfd-window"], ["t_1", "s"], ["t_2", "s"]);
