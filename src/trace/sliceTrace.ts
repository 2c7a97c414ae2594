import { InputError } from "../errors.ts";
import type { Trace } from "./Trace.ts";

/**
 * The part of a trace between two times: samples with `start <= i / rate < end`.
 *
 * Times count from sample zero; those outside the trace are cut at its ends. The samples are copied,
 * so that a short trial does not keep a long recording in memory.
 *
 * @param trace Trace to cut, forces in N.
 * @param startSeconds First time of the part, s.
 * @param endSeconds End of the part, not itself in it, s.
 * @returns The part, N; its `start` is where it began in the recording, s.
 * @throws {InputError} `not-a-number` if a time is not finite; `out-of-range` if no sample lies between them.
 */
export function sliceTrace(trace: Trace, startSeconds: number, endSeconds: number): Trace {
  const part = viewOfTrace(trace, startSeconds, endSeconds);
  return { ...part, plates: part.plates.map(({ role, force }) => ({ role, force: force.slice() })) };
}

/**
 * The part of a trace between two times as {@link sliceTrace} gives it, in the memory of the whole: for whoever keeps neither.
 *
 * @param trace Trace to look at, forces in N.
 * @param startSeconds First time of the part, s.
 * @param endSeconds End of the part, not itself in it, s.
 * @returns The part, N; its `start` is where it began in the recording, s.
 * @throws {InputError} as `sliceTrace`.
 */
export function viewOfTrace(trace: Trace, startSeconds: number, endSeconds: number): Trace {
  if (!Number.isFinite(startSeconds) || !Number.isFinite(endSeconds)) {
    throw new InputError("not-a-number", "cutting a trace requires finite times");
  }
  const samples = trace.plates[0].force.length;
  const first = Math.max(0, sampleAtOrAfter(startSeconds, trace.rate));
  const end = Math.min(samples, sampleAtOrAfter(endSeconds, trace.rate));
  if (first >= end) {
    throw new InputError("out-of-range", "cutting a trace requires times between which it has samples", `${startSeconds} s to ${endSeconds} s`);
  }
  return {
    ...trace,
    start: trace.start + first / trace.rate,
    plates: trace.plates.map((plate) => ({ role: plate.role, force: plate.force.subarray(first, end) })),
  };
}

/** A time that is a sample up to rounding of the decimal counts as that sample. */
function sampleAtOrAfter(seconds: number, rate: number): number {
  return Math.ceil(seconds * rate - 1e-6);
}
