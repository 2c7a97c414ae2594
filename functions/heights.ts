import { flightTimeFromJumpHeight } from "../src/metrics/flightTimeFromJumpHeight.ts";
import { jumpHeightFromFlightTime } from "../src/metrics/jumpHeightFromFlightTime.ts";
import { jumpHeightFromTakeoffVelocity } from "../src/metrics/jumpHeightFromTakeoffVelocity.ts";
import { normalGravity } from "../src/metrics/normalGravity.ts";
import { takeoffVelocityFromJumpHeight } from "../src/metrics/takeoffVelocityFromJumpHeight.ts";
import { cellByCell } from "./runtime/cellByCell.ts";

/**
 * Jump height from flight time, in m: g × flight time² / 8. Assumes the same posture at take-off and landing; bent legs in landing overstate it.
 * @customfunction HEIGHT_FLIGHT
 * @param flightTime Time in the air, in s; a cell or a range.
 * @param [g] Gravity, in m/s²; 9.80665 when left out.
 * @returns Rise of the centre of mass above take-off, in m.
 */
export function heightFlight(flightTime: any[][], g?: any[][]): any[][] {
  return cellByCell(
    "jump height",
    [
      { name: "flight time", value: flightTime },
      { name: "gravity", value: g, optional: true },
    ],
    jumpHeightFromFlightTime,
  );
}

/**
 * Jump height from take-off velocity, in m: velocity² / (2 g).
 * @customfunction HEIGHT_VELOCITY
 * @param takeoffVelocity Vertical velocity at take-off, in m/s; a cell or a range.
 * @param [g] Gravity, in m/s²; 9.80665 when left out.
 * @returns Rise of the centre of mass above take-off, in m.
 */
export function heightVelocity(takeoffVelocity: any[][], g?: any[][]): any[][] {
  return cellByCell(
    "jump height",
    [
      { name: "take-off velocity", value: takeoffVelocity },
      { name: "gravity", value: g, optional: true },
    ],
    jumpHeightFromTakeoffVelocity,
  );
}

/**
 * Flight time of a jump of a given height, in s: √(8 height / g).
 * @customfunction FLIGHT_TIME
 * @param height Jump height above take-off, in m; a cell or a range.
 * @param [g] Gravity, in m/s²; 9.80665 when left out.
 * @returns Time in the air, in s.
 */
export function flightTime(height: any[][], g?: any[][]): any[][] {
  return cellByCell(
    "flight time",
    [
      { name: "height", value: height },
      { name: "gravity", value: g, optional: true },
    ],
    flightTimeFromJumpHeight,
  );
}

/**
 * Take-off velocity of a jump of a given height, in m/s: √(2 g height).
 * @customfunction TAKEOFF_VELOCITY
 * @param height Jump height above take-off, in m; a cell or a range.
 * @param [g] Gravity, in m/s²; 9.80665 when left out.
 * @returns Vertical velocity at take-off, in m/s.
 */
export function takeoffVelocity(height: any[][], g?: any[][]): any[][] {
  return cellByCell(
    "take-off velocity",
    [
      { name: "height", value: height },
      { name: "gravity", value: g, optional: true },
    ],
    takeoffVelocityFromJumpHeight,
  );
}

/**
 * Local gravity, in m/s², from latitude and elevation: normal gravity of the WGS 84 ellipsoid.
 * @customfunction GRAVITY
 * @param latitude Latitude, in degrees, from -90 to 90; a cell or a range.
 * @param [elevation] Elevation above the ellipsoid, in m; 0 when left out.
 * @returns Normal gravity, in m/s².
 */
export function gravity(latitude: any[][], elevation?: any[][]): any[][] {
  return cellByCell(
    "local gravity",
    [
      { name: "latitude", value: latitude, zero: "counts" },
      { name: "elevation", value: elevation, optional: true, zero: "counts" },
    ],
    normalGravity,
  );
}
