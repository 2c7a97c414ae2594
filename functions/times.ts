import { InputError } from "../src/errors.ts";
import { flightTimeFromFrames } from "../src/metrics/flightTimeFromFrames.ts";
import { flightTimeFromFramesUncertainty } from "../src/metrics/flightTimeFromFramesUncertainty.ts";
import { flightToContactRatio } from "../src/metrics/flightToContactRatio.ts";
import { hopPower as hopPowerFromTimes } from "../src/metrics/hopPower.ts";
import { hopStiffness as hopStiffnessFromTimes } from "../src/metrics/hopStiffness.ts";
import { powerEstimate as powerByEquation } from "../src/metrics/powerEstimate.ts";
import { reactiveStrengthIndex } from "../src/metrics/reactiveStrengthIndex.ts";
import { reactiveStrengthIndexModified } from "../src/metrics/reactiveStrengthIndexModified.ts";
import type { TimesRecord } from "../src/trace/Trace.ts";
import { packTimes as packTimesText } from "../src/trace/packTimes.ts";
import { cellByCell } from "./runtime/cellByCell.ts";
import { quoted } from "./runtime/cells.ts";
import { orSetting } from "./runtime/orSetting.ts";

/**
 * Flight time from the frames of a video, in s, or its standard uncertainty.
 * @customfunction FLIGHT_TIME_FRAMES
 * @param takeoffFrame Number of the first frame in the air; a cell or a range.
 * @param landingFrame Number of the first frame of ground contact; a cell or a range.
 * @param framesPerSecond Frame rate of the recording, in frames per second.
 * @param [what] "time" (default), or "u" for the standard uncertainty with a reading error of one frame.
 * @returns Flight time or its standard uncertainty, in s.
 */
export function flightTimeFrames(takeoffFrame: any[][], landingFrame: any[][], framesPerSecond: any[][], what?: any[][]): any[][] {
  return cellByCell(
    "flight time",
    [
      { name: "take-off frame", value: takeoffFrame, zero: "counts" },
      { name: "landing frame", value: landingFrame },
      { name: "frames per second", value: framesPerSecond },
      { name: "what", value: what, optional: true, text: true },
    ],
    (takeoff: number, landing: number, rate: number, wanted: unknown = "time") => {
      const time = flightTimeFromFrames(takeoff, landing, rate);
      const word = String(wanted).toLowerCase();
      if (word === "time") return time;
      if (word === "u") return flightTimeFromFramesUncertainty(rate);
      throw new InputError("unknown-name", `flight time from frames requires "time" or "u", not ${quoted(wanted)}`);
    },
  );
}

/**
 * Reactive strength index: jump height over contact time, in m/s, or flight time over contact time (no unit). The two are not interchangeable.
 * @customfunction RSI
 * @param heightOrFlight Jump height, in m, or flight time, in s, as the basis says; a cell or a range.
 * @param contactTime Ground contact time, in s; a cell or a range.
 * @param [basis] "height" (default) or "flight".
 * @returns Reactive strength index, in m/s, or the ratio of times, no unit.
 */
export function rsi(heightOrFlight: any[][], contactTime: any[][], basis?: any[][]): any[][] {
  return cellByCell(
    "reactive strength index",
    [
      { name: "height or flight time", value: heightOrFlight },
      { name: "contact time", value: contactTime },
      { name: "basis", value: basis, optional: true, text: true },
    ],
    (value: number, contact: number, chosen: unknown = "height") => {
      const word = String(chosen).toLowerCase();
      if (word === "height") return reactiveStrengthIndex(value, contact);
      if (word === "flight") return flightToContactRatio(value, contact);
      throw new InputError("unknown-name", `reactive strength index requires the basis "height" or "flight", not ${quoted(chosen)}`);
    },
  );
}

/**
 * Modified reactive strength index of a countermovement jump, in m/s: jump height over time to take-off.
 * @customfunction RSI_MODIFIED
 * @param height Jump height, in m; a cell or a range.
 * @param timeToTakeoff Time from onset of movement to take-off, in s; a cell or a range.
 * @returns Modified reactive strength index, in m/s.
 */
export function rsiModified(height: any[][], timeToTakeoff: any[][]): any[][] {
  return cellByCell(
    "modified reactive strength index",
    [
      { name: "height", value: height },
      { name: "time to take-off", value: timeToTakeoff },
    ],
    reactiveStrengthIndexModified,
  );
}

/**
 * Power of a jump estimated from its height and body mass by a published equation, in W. For groups like those of the paper; never to be mixed with measured power.
 * @customfunction POWER_ESTIMATE
 * @param height Jump height, in m; a cell or a range.
 * @param mass Body mass, in kg; a cell or a range.
 * @param [equation] Name of the equation: sayersCountermovementJump (default), sayersSquatJump, harmanPeak, harmanMean, johnsonBahamondePeak, johnsonBahamondeMean, canavanVescovi; or the Settings range.
 * @param [stature] Stature, in m; needed by the equations of Johnson and Bahamonde only.
 * @returns Peak or mean power, as the equation says, in W.
 */
export function powerEstimate(height: any[][], mass: any[][], equation?: any[][], stature?: any[][]): any[][] {
  return cellByCell(
    "power estimate",
    [
      { name: "height", value: height },
      { name: "body mass", value: mass },
      { name: "equation", value: orSetting(equation, "power-equation"), optional: true, text: true },
      { name: "stature", value: stature, optional: true },
    ],
    (h: number, m: number, name?: unknown, s?: number) => powerByEquation(h, m, name === undefined ? undefined : String(name), s),
  );
}

/**
 * Mean mechanical power of repeated jumps from times alone, in W/kg: g² × flight × total / (4 hops (total - flight)).
 * @customfunction HOP_POWER
 * @param totalTime Time from first touchdown to last landing, in s; a cell or a range.
 * @param flightTime Sum of the flight times after each contact, in s; a cell or a range.
 * @param hops Number of hops (contacts); a cell or a range.
 * @param [g] Gravity, in m/s²; 9.80665 when left out.
 * @returns Mean power per kilogram of body mass, in W/kg.
 */
export function hopPower(totalTime: any[][], flightTime: any[][], hops: any[][], g?: any[][]): any[][] {
  return cellByCell(
    "hop power",
    [
      { name: "total time", value: totalTime },
      { name: "flight time", value: flightTime },
      { name: "hops", value: hops },
      { name: "gravity", value: g, optional: true },
    ],
    hopPowerFromTimes,
  );
}

/**
 * Vertical stiffness in hopping from times alone, in N/m, with the force of the contact taken as half a sine wave.
 * @customfunction HOP_STIFFNESS
 * @param mass Body mass, in kg; a cell or a range.
 * @param flightTime Flight time, in s; a cell or a range.
 * @param contactTime Ground contact time, in s; a cell or a range.
 * @returns Vertical stiffness, in N/m.
 */
export function hopStiffness(mass: any[][], flightTime: any[][], contactTime: any[][]): any[][] {
  return cellByCell(
    "hop stiffness",
    [
      { name: "body mass", value: mass },
      { name: "flight time", value: flightTime },
      { name: "contact time", value: contactTime },
    ],
    hopStiffnessFromTimes,
  );
}

/**
 * Times from a contact mat or a video as the text of a trace cell, so that METRIC gives what follows from times.
 * @customfunction PACK_TIMES
 * @param flightTime Flight time, in s; a cell or a range. Blank where it was not measured.
 * @param [contactTime] Ground contact time, in s; a cell or a range.
 * @param [source] "mat" (default) or "video".
 * @param [framesPerSecond] Frame rate of the video, in frames per second.
 * @returns Text for a trace cell.
 */
export function packTimes(flightTime: any[][], contactTime?: any[][], source?: any[][], framesPerSecond?: any[][]): any[][] {
  return cellByCell(
    "times",
    [
      { name: "flight time", value: flightTime, optional: true },
      { name: "contact time", value: contactTime, optional: true },
      { name: "source", value: source, optional: true, text: true },
      { name: "frames per second", value: framesPerSecond, optional: true },
    ],
    (flight?: number, contact?: number, from: unknown = "mat", rate?: number) => {
      if (flight === undefined && contact === undefined) return "";
      const word = String(from).toLowerCase();
      if (word !== "mat" && word !== "video") throw new InputError("unknown-name", `times require the source "mat" or "video", not ${quoted(from)}`);
      const times: TimesRecord = {
        ...(flight === undefined ? {} : { flight }),
        ...(contact === undefined ? {} : { contact }),
        source: word,
        ...(rate === undefined ? {} : { framesPerSecond: rate }),
      };
      return packTimesText(times);
    },
  );
}
