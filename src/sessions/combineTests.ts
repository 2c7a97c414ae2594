import { InputError } from "../errors.ts";
import { armSwingGain } from "../metrics/armSwingGain.ts";
import { bilateralIndex } from "../metrics/bilateralIndex.ts";
import { dynamicStrengthIndex } from "../metrics/dynamicStrengthIndex.ts";
import { eccentricUtilisationRatio } from "../metrics/eccentricUtilisationRatio.ts";
import { prestretchAugmentation } from "../metrics/prestretchAugmentation.ts";
import type { Protocol } from "../protocols/Protocol.ts";
import { ratioInterval } from "../statistics/ratioInterval.ts";
import type { RatioInterval, RatioOptions } from "../statistics/ratioInterval.ts";
import { pairingReason } from "./pairingReason.ts";
import type { Combination } from "./pairingReason.ts";

/** One result that goes into a combination, as it will be shown before the ratio. */
export interface Component {
  readonly value: number;
  /** Standard uncertainty, in the unit of the value; absent where unknown. */
  readonly u?: number;
  /** Trials behind it. */
  readonly count?: number;
  /** Degrees of freedom of `u`; absent: `count - 1`, as for a scatter of these trials, or exactly known where no count is given. */
  readonly degreesOfFreedom?: number;
  readonly protocol?: Protocol;
  readonly date?: string;
}

/** A combination of tests: components first, then the number with its limits. */
export interface CombinedTests {
  readonly kind: Combination;
  readonly components: readonly Component[];
  /** Ratio (no unit) or, for augmentation, arm swing and bilateral index, percentage. */
  readonly value: number;
  readonly unit: "" | "%";
  readonly u?: number;
  readonly low?: number;
  readonly high?: number;
  readonly interval?: RatioInterval;
  /** Why there are no limits, where there are none. */
  readonly noLimits?: string;
  /** For the dynamic strength index: body weight taken off both forces, or not. */
  readonly basis?: "gross" | "net";
}

/**
 * Combination of results of different tests with the limits of its ratio, refused where the protocols are unlike.
 *
 * Percentages are `100 (ratio - 1)`. Limits need the uncertainty of every component; they take
 * the body weight of a net index as known. Their quantile is Student's t with the fewest
 * degrees of freedom of the components: with three trials each, the normal one would hold the
 * true ratio in 85 to 88 of 100 cases only. An uncertainty from the typical error of a squad
 * has more degrees of freedom, and gives narrower limits.
 *
 * @param kind Combination, no unit.
 * @param components Results in the order of the formula, in one unit.
 * @param options Level, method and correlation of the limits (no unit), and body weight, in N, for the net strength index.
 * @returns Components, value and limits: no unit for ratios, % for percentages.
 * @throws {InputError} `not-available` with the reason where the protocols are unlike.
 * @throws {InputError} `wrong-shape` if the number of components is wrong.
 * @throws {InputError} `out-of-range` if a result is not positive.
 * @see McGuigan et al. (2006); Comfort et al. (2018); Howard & Enoka (1991); Fieller (1954).
 */
export function combineTests(
  kind: Combination,
  components: readonly Component[],
  options: RatioOptions & { readonly bodyWeight?: number } = {},
): CombinedTests {
  const { bodyWeight, ...ratioOptions } = options;
  const parts = kind === "bilateral" ? 3 : 2;
  if (components.length !== parts) throw new InputError("wrong-shape", `combination of tests requires ${parts} results`);
  const reason = pairingReason(kind, components.map((component) => component.protocol));
  if (reason !== undefined) throw new InputError("not-available", `combination of tests requires like protocols: ${reason}`);

  const [first, second, third] = components;
  const value = valueOf(kind, components, bodyWeight);
  const percentage = kind !== "eccentricUtilisation" && kind !== "dynamicStrength";
  const shared = {
    kind,
    components,
    value,
    unit: percentage ? ("%" as const) : ("" as const),
    ...(kind === "dynamicStrength" ? { basis: bodyWeight === undefined ? ("gross" as const) : ("net" as const) } : {}),
  };
  if (components.some((component) => component.u === undefined)) {
    return { ...shared, noLimits: "limits require at least two trials of each result" };
  }
  const off = kind === "dynamicStrength" ? (bodyWeight ?? 0) : 0;
  const denominator = third === undefined ? second.value - off : second.value + third.value;
  const uDenominator = third === undefined ? second.u! : Math.hypot(second.u!, third.u!);
  const freedoms = components.map(({ degreesOfFreedom, count }) => degreesOfFreedom ?? (count !== undefined && count > 1 ? count - 1 : Infinity));
  const degreesOfFreedom = ratioOptions.degreesOfFreedom ?? Math.min(...freedoms);
  let interval: RatioInterval;
  try {
    interval = ratioInterval(first.value - off, first.u!, denominator, uDenominator, { ...ratioOptions, degreesOfFreedom });
  } catch (error) {
    if (error instanceof InputError && error.code === "not-available") return { ...shared, noLimits: error.message };
    throw error;
  }
  const printed = (ratio: number): number => (percentage ? 100 * (ratio - 1) : ratio);
  return {
    ...shared,
    u: percentage ? 100 * interval.u : interval.u,
    low: printed(interval.low),
    high: printed(interval.high),
    interval,
  };
}

function valueOf(kind: Combination, [first, second, third]: readonly Component[], bodyWeight: number | undefined): number {
  switch (kind) {
    case "eccentricUtilisation":
      return eccentricUtilisationRatio(first.value, second.value);
    case "prestretchAugmentation":
      return prestretchAugmentation(first.value, second.value);
    case "dynamicStrength":
      return dynamicStrengthIndex(first.value, second.value, bodyWeight);
    case "armSwing":
      return armSwingGain(first.value, second.value);
    case "bilateral":
      return bilateralIndex(first.value, second.value, third.value);
  }
}
