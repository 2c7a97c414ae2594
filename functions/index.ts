import * as heights from "./heights.ts";
import * as ratios from "./ratios.ts";
import { boundary, type CellFunction } from "./runtime/boundary.ts";
import * as times from "./times.ts";

export type { CellFunction, Invocation } from "./runtime/boundary.ts";
export { CellError, type CellErrorCode } from "./runtime/CellError.ts";

/** Every cell function by its id, as written after `@customfunction` in its docblock. */
const COMPUTE: Readonly<Record<string, (...args: any[]) => unknown>> = {
  ARM_SWING: ratios.armSwing,
  ASYMMETRY: ratios.asymmetry,
  BILATERAL_INDEX: ratios.bilateralIndex,
  DSI: ratios.dsi,
  EUR: ratios.eur,
  FLIGHT_TIME: heights.flightTime,
  FLIGHT_TIME_FRAMES: times.flightTimeFrames,
  GRAVITY: heights.gravity,
  HEIGHT_FLIGHT: heights.heightFlight,
  HEIGHT_VELOCITY: heights.heightVelocity,
  HOP_POWER: times.hopPower,
  HOP_STIFFNESS: times.hopStiffness,
  PACK_TIMES: times.packTimes,
  POWER_ESTIMATE: times.powerEstimate,
  PRESTRETCH_AUGMENTATION: ratios.prestretchAugmentation,
  PROTOCOL: ratios.protocol,
  RSI: times.rsi,
  RSI_MODIFIED: times.rsiModified,
  TAKEOFF_VELOCITY: heights.takeoffVelocity,
};

/**
 * The functions as a host calls them: declared arguments in order (`null` where left out), then the
 * invocation with the address of the cell. A call gives a value or a table of values, in which a
 * single cell may be a `CellError`, or throws a `CellError` for the whole.
 */
export const FUNCTIONS: ReadonlyMap<string, CellFunction> = new Map(Object.entries(COMPUTE).map(([id, compute]) => [id, boundary(id, compute)]));
