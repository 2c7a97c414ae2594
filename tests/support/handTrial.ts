import { parseAdjust } from "../../src/protocols/parseAdjust.ts";
import { parseProtocol } from "../../src/protocols/parseProtocol.ts";
import { Trial } from "../../src/protocols/Trial.ts";
import { settingsFrom } from "../../src/settings/settingsFrom.ts";
import { ownMemory } from "../../src/trace/memory.ts";
import type { PlateRole } from "../../src/trace/Trace.ts";
import { traceOf } from "./secondOpinion.ts";

/** What a trial by hand is made with, besides its force. */
export interface HandOptions {
  readonly rate?: number;
  readonly protocol?: string;
  readonly settings?: readonly (readonly [string, string | number])[];
  readonly adjust?: string;
  readonly step?: number;
  readonly rounding?: number;
}

/** A stretch of samples: a level, N; or a straight line from a level toward another, which the sample after the stretch would have. */
export type HandStretch = readonly [samples: number, from: number, to?: number];

/** Force in stretches, N. */
export function forceOf(...stretches: readonly HandStretch[]): Float64Array {
  return Float64Array.from(stretches.flatMap(([samples, from, to = from]) => Array.from({ length: samples }, (_, i) => from + ((to - from) * i) / samples)));
}

/** A trial before its analysis, so that one step of it can be tried alone. */
export function handTrial(plates: Readonly<Partial<Record<PlateRole, Float64Array>>>, options: HandOptions = {}): Trial {
  const { protocol = "CMJ", settings = [], adjust = "", rate = 1000, step = 0, rounding = 0 } = options;
  return new Trial(traceOf(plates, rate, { step, rounding }), parseProtocol(protocol), settingsFrom(settings), parseAdjust(adjust), ownMemory, true);
}
