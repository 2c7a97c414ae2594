import * as analysis from "./analysis.ts";
import * as change from "./change.ts";
import * as checks from "./checks.ts";
import * as decisions from "./decisions.ts";
import * as heights from "./heights.ts";
import * as profiles from "./profiles.ts";
import * as ratios from "./ratios.ts";
import * as readings from "./readings.ts";
import * as reliability from "./reliability.ts";
import { boundary, type CellFunction } from "./runtime/boundary.ts";
import * as teaching from "./teaching.ts";
import * as times from "./times.ts";
import * as traces from "./traces.ts";
import * as words from "./words.ts";

export type { CellFunction, Invocation } from "./runtime/boundary.ts";
export { CellError, type CellErrorCode } from "./runtime/CellError.ts";

/** Every cell function by its id, as written after `@customfunction` in its docblock. */
const COMPUTE: Readonly<Record<string, (...args: any[]) => unknown>> = {
  ANALYSE: analysis.analyse,
  ARM_SWING: ratios.armSwing,
  ASYMMETRY: ratios.asymmetry,
  ASYMMETRY_VERDICT: change.asymmetryVerdict,
  BASELINE: change.baseline,
  BEST_OF_BIAS: change.bestBias,
  BILATERAL_INDEX: ratios.bilateralIndex,
  CHANGE: change.change,
  COMBINE: decisions.combine,
  DROP_PROFILE: profiles.dropProfile,
  DSI: ratios.dsi,
  EUR: ratios.eur,
  EVENTS: analysis.events,
  EWMA: change.ewma,
  EXPLAIN: words.explain,
  FINDINGS: analysis.findings,
  FLIGHT_TIME: heights.flightTime,
  FLIGHT_TIME_FRAMES: times.flightTimeFrames,
  FOLLOW: decisions.follow,
  GRAVITY: heights.gravity,
  HEIGHT_FLIGHT: heights.heightFlight,
  HEIGHT_VELOCITY: heights.heightVelocity,
  HOPS: analysis.hops,
  HOP_POWER: times.hopPower,
  HOP_STIFFNESS: times.hopStiffness,
  ICC: reliability.icc,
  LIKE_PROTOCOL: ratios.likeProtocol,
  LIMITS_OF_AGREEMENT: reliability.limitsOfAgreement,
  LOAD_PROFILE: profiles.loadProfile,
  MARK_ANSWER: teaching.markAnswer,
  MDC: reliability.mdc,
  METHODS: words.methods,
  METRIC: analysis.metric,
  PACK: traces.pack,
  PACK_TIMES: times.packTimes,
  POWER_ESTIMATE: times.powerEstimate,
  PRESTRETCH_AUGMENTATION: ratios.prestretchAugmentation,
  PROTOCOL: ratios.protocol,
  RATIO_INTERVAL: ratios.ratioInterval,
  READ_ASYMMETRY: readings.readAsymmetry,
  READ_BASELINE: readings.readBaseline,
  READ_BILATERAL: readings.readBilateral,
  READ_CHANGE: readings.readChange,
  READ_DROP_PROFILE: readings.readDropProfile,
  READ_LOAD_PROFILE: readings.readLoadProfile,
  READ_RATIO: readings.readRatio,
  READ_REACTIVE_STRENGTH: decisions.readReactiveStrength,
  READ_RELIABILITY: readings.readReliability,
  RSI: times.rsi,
  RSI_MODIFIED: times.rsiModified,
  SELF_CHECK: checks.selfCheck,
  SEM: reliability.sem,
  SESSION_FINDINGS: decisions.sessionFindings,
  SESSION_VALUE: readings.sessionValue,
  SIDE_HISTORY: decisions.sideHistory,
  SOURCE: words.source,
  SQUAD_TABLE: decisions.squadTable,
  STEPS: analysis.steps,
  SWC: reliability.swc,
  SYNTHETIC: teaching.synthetic,
  TAKEOFF_VELOCITY: heights.takeoffVelocity,
  TIME_SERIES: analysis.timeSeries,
  TYPICAL_ERROR: reliability.typicalError,
  TYPICAL_ERROR_TRIALS: decisions.typicalErrorTrials,
  T_SCORE: change.tScore,
  UNPACK: traces.unpack,
  VERDICT: analysis.verdict,
  Z_SCORE: change.zScore,
};

/**
 * The functions as a host calls them: declared arguments in order (`null` where left out), then the
 * invocation with the address of the cell. A call gives a value or a table of values, in which a
 * single cell may be a `CellError`, or throws a `CellError` for the whole.
 */
export const FUNCTIONS: ReadonlyMap<string, CellFunction> = new Map(Object.entries(COMPUTE).map(([id, compute]) => [id, boundary(id, compute)]));
