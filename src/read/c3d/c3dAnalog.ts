import { MAX_SAMPLES } from "../limits.ts";
import type { C3dNumbers } from "./c3dNumbers.ts";
import { broken, C3D_BLOCK, type C3dParameters } from "./c3dParameters.ts";

/** The analog channels of a C3D file. */
export interface C3dAnalog {
  /** Hz. */
  readonly rate: number;
  readonly samples: number;
  /** Analog samples in a frame of points. */
  readonly perFrame: number;
  readonly channels: readonly { readonly name: string; readonly unit?: string }[];
  /** Scaled values of a channel by index from zero, in its own unit. */
  values(channel: number): Float64Array;
}

/**
 * The analog channels: `value = (raw - OFFSET) * SCALE * GEN_SCALE`.
 *
 * Counts are checked against the length of the file before anything is kept for them.
 *
 * @param numbers Numbers of the file.
 * @param parameters Its parameters.
 * @returns Channels with rate and values, each in its own unit.
 * @throws {InputError} `damaged` if the counts do not fit together or the data end too early.
 * @see The C3D file format, user guide (c3d.org), header and analog data.
 */
export function c3dAnalog(numbers: C3dNumbers, parameters: C3dParameters): C3dAnalog {
  const { bytes } = numbers;
  const points = numbers.uint16(2);
  const perFrameTotal = numbers.uint16(4);
  const perFrame = Math.max(1, numbers.uint16(18));
  const channels = firstNumber(parameters, "ANALOG:USED", true) ?? Math.floor(perFrameTotal / perFrame);
  if (channels < 1 || perFrameTotal === 0) throw broken("there are no analog channels, and so no forces");
  if (channels * perFrame !== perFrameTotal) {
    throw broken(`${channels} channels of ${perFrame} samples do not make the ${perFrameTotal} values that each frame is said to have`);
  }
  const scaleOfPoints = firstNumber(parameters, "POINT:SCALE") ?? numbers.real(12);
  const size = scaleOfPoints < 0 ? 4 : 2;
  const dataBlock = numbers.uint16(16) || firstNumber(parameters, "POINT:DATA_START", true) || 0;
  const start = (dataBlock - 1) * C3D_BLOCK;
  if (dataBlock < 2 || start >= bytes.length) throw broken("its data are not in the file");
  const frameSize = (points * 4 + perFrameTotal) * size;
  const frames = frameCount(numbers, parameters);
  const there = Math.floor((bytes.length - start) / frameSize);
  if (frames < 1) throw broken("there are no frames");
  if (there < frames) throw broken(`${frames} frames are said to follow and ${there} are there`);
  const samples = frames * perFrame;
  if (samples > MAX_SAMPLES) throw broken("there are more samples than can be read");

  const pointRate = firstNumber(parameters, "POINT:RATE") ?? numbers.real(20);
  const analogRate = firstNumber(parameters, "ANALOG:RATE");
  const rate = analogRate !== undefined && analogRate > 0 ? analogRate : pointRate * perFrame;
  if (!(rate > 0 && Number.isFinite(rate))) throw broken("the sampling rate is not above zero");

  const general = firstNumber(parameters, "ANALOG:GEN_SCALE") ?? 1;
  const scales = joined(parameters, "ANALOG:SCALE");
  const offsets = joined(parameters, "ANALOG:OFFSET");
  const unsigned = parameters.get("ANALOG:FORMAT")?.texts[0]?.toUpperCase() === "UNSIGNED";
  const unsignedOffsets = joined(parameters, "ANALOG:OFFSET", true);
  const labels = joinedTexts(parameters, "ANALOG:LABELS");
  const units = joinedTexts(parameters, "ANALOG:UNITS");
  return {
    rate,
    samples,
    perFrame,
    channels: Array.from({ length: channels }, (_, i) => ({ name: labels[i] || `channel ${i + 1}`, ...(units[i] ? { unit: units[i] } : {}) })),
    values(channel) {
      const scale = (scales[channel] ?? 1) * general;
      const offset = (unsigned ? unsignedOffsets : offsets)[channel] ?? 0;
      const values = new Float64Array(samples);
      let at = 0;
      for (let frame = 0; frame < frames; frame++) {
        const first = start + frame * frameSize + (points * 4 + channel) * size;
        for (let k = 0; k < perFrame; k++) {
          const place = first + k * channels * size;
          const raw = size === 4 ? numbers.real(place) : unsigned ? numbers.uint16(place) : numbers.int16(place);
          values[at++] = (raw - offset) * scale;
        }
      }
      return values;
    },
  };
}

/** Frames by the header; more than it can count by the parameters that were added for it. */
function frameCount(numbers: C3dNumbers, parameters: C3dParameters): number {
  const first = numbers.uint16(6);
  const last = numbers.uint16(8);
  const start = twoWords(parameters, "TRIAL:ACTUAL_START_FIELD");
  const end = twoWords(parameters, "TRIAL:ACTUAL_END_FIELD");
  if (start !== undefined && end !== undefined && end >= start && end - start + 1 > 0xffff - first) return end - start + 1;
  if (last === 0xffff || last < first) {
    const long = firstNumber(parameters, "POINT:LONG_FRAMES") ?? firstNumber(parameters, "POINT:FRAMES", true);
    if (long !== undefined && long > 0) return Math.round(long);
  }
  return last - first + 1;
}

function twoWords(parameters: C3dParameters, name: string): number | undefined {
  const words = parameters.get(name)?.unsigned;
  return words && words.length >= 2 ? words[0] + 65_536 * words[1] : undefined;
}

export function firstNumber(parameters: C3dParameters, name: string, unsigned = false): number | undefined {
  const parameter = parameters.get(name);
  return (unsigned ? parameter?.unsigned : parameter?.numbers)?.[0];
}

/** A list that goes on in `NAME2`, `NAME3`, since one parameter holds at most 255. */
function joined(parameters: C3dParameters, name: string, unsigned = false): number[] {
  const lists = ["", "2", "3", "4"].map((suffix) => parameters.get(name + suffix));
  return lists.flatMap((list) => [...((unsigned ? list?.unsigned : list?.numbers) ?? [])]);
}

function joinedTexts(parameters: C3dParameters, name: string): string[] {
  return ["", "2", "3", "4"].flatMap((suffix) => [...(parameters.get(name + suffix)?.texts ?? [])]);
}
