import { resolveMetricName } from "../src/catalogue/resolveMetricName.ts";
import { asymmetry } from "../src/metrics/asymmetry.ts";
import { hopPower } from "../src/metrics/hopPower.ts";
import { hopStiffness } from "../src/metrics/hopStiffness.ts";
import { jumpHeightFromFlightTime } from "../src/metrics/jumpHeightFromFlightTime.ts";
import { jumpHeightFromTakeoffVelocity } from "../src/metrics/jumpHeightFromTakeoffVelocity.ts";
import { normalGravity } from "../src/metrics/normalGravity.ts";
import { powerEstimate } from "../src/metrics/powerEstimate.ts";
import type { Analysis } from "../src/protocols/Analysis.ts";
import { analyse } from "../src/protocols/analyse.ts";
import { parseProtocol } from "../src/protocols/parseProtocol.ts";
import { readMetric } from "../src/protocols/readMetric.ts";
import { DEFAULT_SETTINGS } from "../src/settings/defaultSettings.ts";
import { intraclassCorrelation } from "../src/statistics/intraclassCorrelation.ts";
import { limitsOfAgreement } from "../src/statistics/limitsOfAgreement.ts";
import { ratioInterval } from "../src/statistics/ratioInterval.ts";
import { typicalError } from "../src/statistics/typicalError.ts";
import { chiSquareQuantile, fQuantile, normalQuantile, tQuantile } from "../src/statistics/distributions.ts";
import { syntheticTrace } from "../src/synthetic/syntheticTrace.ts";
import { crc32 } from "../src/trace/crc32.ts";
import { packTrace } from "../src/trace/packTrace.ts";
import type { Trace } from "../src/trace/Trace.ts";
import { unpackTrace } from "../src/trace/unpackTrace.ts";
import type { Cell } from "./runtime/cells.ts";

/** A published or exact value and how it is recomputed here. */
interface Check {
  readonly name: string;
  readonly expected: number;
  /** Largest difference that passes. */
  readonly tolerance: number;
  readonly source: string;
  readonly compute: () => number;
}

/** Six people judged four times: Shrout & Fleiss (1979), table 2. */
const JUDGES = [
  [9, 2, 5, 8],
  [6, 1, 3, 2],
  [8, 4, 6, 8],
  [7, 1, 2, 6],
  [10, 5, 6, 9],
  [6, 2, 4, 7],
];
/** Peak flow of 17 people by two meters, l/min: Bland & Altman (1986), table 1, first readings. */
const LARGE_METER = [494, 395, 516, 434, 476, 557, 413, 442, 650, 433, 417, 656, 267, 478, 178, 423, 427];
const SMALL_METER = [512, 430, 520, 428, 500, 600, 364, 380, 658, 445, 432, 626, 260, 477, 259, 350, 451];
/** Countermovement jumps of eight people on two days, cm, invented; results by hand. */
const TWO_DAYS = [
  [34.1, 34.9],
  [38.6, 38.0],
  [41.2, 42.3],
  [29.8, 30.1],
  [45.0, 44.1],
  [36.7, 37.9],
  [33.0, 32.4],
  [40.3, 41.2],
];

function checks(): Check[] {
  return [
    { name: "jump height, flight 0.5 s", expected: 0.3064578125, tolerance: 1e-12, source: "by hand", compute: () => jumpHeightFromFlightTime(0.5) },
    { name: "jump height, take-off 2.6 m/s", expected: 0.344664, tolerance: 5e-7, source: "by hand", compute: () => jumpHeightFromTakeoffVelocity(2.6) },
    { name: "normal gravity at 45°", expected: 9.8061978, tolerance: 5e-8, source: "WGS 84", compute: () => normalGravity(45) },
    { name: "normal gravity at a pole", expected: 9.8321849, tolerance: 5e-8, source: "WGS 84", compute: () => normalGravity(90) },
    { name: "power, 40 cm, 75 kg, squat jump", expected: 3770.5, tolerance: 0.05, source: "Sayers et al. (1999)", compute: () => powerEstimate(0.4, 75, "sayersSquatJump") },
    { name: "power, 40 cm, 75 kg, constant negative", expected: 3354, tolerance: 0.05, source: "Harman et al. (1991)", compute: () => powerEstimate(0.4, 75, "harmanPeak") },
    { name: "hop power, 15 s, 15 hops", expected: 36.0639, tolerance: 5e-5, source: "Bosco et al. (1983)", compute: () => hopPower(15, 9, 15) },
    { name: "hop stiffness, 72 kg", expected: 25274.4, tolerance: 0.05, source: "Dalleau et al. (2004)", compute: () => hopStiffness(72, 0.534, 0.188) },
    { name: "symmetry angle, 800 and 700 N", expected: 4.238, tolerance: 5e-4, source: "Zifchock et al. (2008)", compute: () => asymmetry(800, 700, "symmetryAngle") },
    ...(["1,1", "2,1", "3,1", "1,k", "2,k", "3,k"] as const).map((form, i) => ({
      name: `intraclass correlation (${form})`,
      expected: [0.17, 0.29, 0.71, 0.44, 0.62, 0.91][i],
      tolerance: 0.005,
      source: "Shrout & Fleiss (1979)",
      compute: () => intraclassCorrelation(JUDGES, form).value,
    })),
    { name: "bias of two meters, l/min", expected: -2.117647, tolerance: 5e-7, source: "Bland & Altman (1986)", compute: () => limitsOfAgreement(SMALL_METER, LARGE_METER).bias },
    { name: "upper limit of agreement, l/min", expected: 73.862, tolerance: 5e-4, source: "Bland & Altman (1986)", compute: () => limitsOfAgreement(SMALL_METER, LARGE_METER).high },
    { name: "typical error of two days", expected: 0.604448, tolerance: 5e-7, source: "by hand, Hopkins (2000)", compute: () => typicalError(TWO_DAYS).value },
    { name: "Fieller limit of 38 (0.6) / 35 (0.7)", expected: 1.1417, tolerance: 5e-5, source: "Fieller (1954), by hand", compute: () => ratioInterval(38, 0.6, 35, 0.7).high },
    { name: "normal quantile 0.975", expected: 1.959964, tolerance: 5e-7, source: "statistical tables", compute: () => normalQuantile(0.975) },
    { name: "t quantile 0.975, 7 degrees of freedom", expected: 2.364624, tolerance: 5e-7, source: "statistical tables", compute: () => tQuantile(0.975, 7) },
    { name: "F quantile 0.95, 5 and 15 degrees of freedom", expected: 2.901295, tolerance: 5e-7, source: "statistical tables", compute: () => fQuantile(0.95, 5, 15) },
    { name: "chi-squared quantile 0.025, 7 degrees of freedom", expected: 1.689869, tolerance: 5e-7, source: "statistical tables", compute: () => chiSquareQuantile(0.025, 7) },
    ...jumpChecks(),
  ];
}

/** A synthetic countermovement jump whose answers are algebra, packed, unpacked and analysed with the default settings. */
function jumpChecks(): Check[] {
  const packed = packTrace(syntheticTrace({ test: "CMJ" }).trace);
  let analysis: Analysis | undefined;
  const read = (name: string): number => {
    analysis ??= analyse(unpackTrace(packed) as Trace, parseProtocol("CMJ"), DEFAULT_SETTINGS);
    return readMetric(analysis, resolveMetricName(name)).value;
  };
  const exact = "exact by construction";
  return [
      { name: "jump height of the exact jump, m", expected: 0.344664, tolerance: 0.0015, source: exact, compute: () => read("jumpHeight") },
      { name: "its flight time, s", expected: 0.530252, tolerance: 0.002, source: exact, compute: () => read("flightTime") },
      { name: "its depth, m", expected: -0.3471, tolerance: 0.0005, source: exact, compute: () => read("countermovementDepth") },
      { name: "its peak force, N", expected: 1897.951, tolerance: 9.5, source: exact, compute: () => read("peakForce") },
      { name: "its peak power, W", expected: 3514.649, tolerance: 17.6, source: exact, compute: () => read("peakPower") },
      { name: "its packed text, same in every host", expected: PACKED_JUMP, tolerance: 0, source: "recorded in Node 20 with version 0.1.0", compute: () => crc32(packed.join("")) },
  ];
}

/** CRC-32 of the packed text of the exact jump. */
const PACKED_JUMP = 4189838218;

/**
 * Published and exact values recomputed in this very host: name, expected, got, and whether it passes. Every row must say TRUE.
 * @customfunction SELF_CHECK
 * @returns Table with a head row: check, expected, got, pass, source.
 */
export function selfCheck(): any[][] {
  const rows: Cell[][] = [["check", "expected", "got", "pass", "source"]];
  for (const { name, expected, tolerance, source, compute } of checks()) {
    const got = compute();
    rows.push([name, expected, got, Math.abs(got - expected) <= tolerance, source]);
  }
  return rows;
}
