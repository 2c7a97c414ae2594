import type { Trace } from "../trace/Trace.ts";
import { InputError } from "../errors.ts";

/**
 * One long recording of several trials, end to end: what a file of three jumps looks like.
 *
 * @param traces Trials of one rate with the same plates, N.
 * @returns The recording, N; trial k begins after the samples of those before it.
 * @throws {InputError} `wrong-shape` where rates or plates differ or there is none.
 */
export function joinTrials(traces: readonly Trace[]): Trace {
  const first = traces[0];
  if (first === undefined) throw new InputError("wrong-shape", "a recording requires at least one trial");
  const roles = (trace: Trace): string => trace.plates.map((plate) => plate.role).join(" ");
  for (const trace of traces) {
    if (trace.rate !== first.rate || roles(trace) !== roles(first)) throw new InputError("wrong-shape", "a recording requires trials of one rate and the same plates");
  }
  const length = traces.reduce((sum, trace) => sum + trace.plates[0].force.length, 0);
  const plates = first.plates.map(({ role }, index) => {
    const force = new Float64Array(length);
    let at = 0;
    for (const trace of traces) {
      force.set(trace.plates[index].force, at);
      at += trace.plates[index].force.length;
    }
    return { role, force };
  });
  return { ...first, plates };
}
