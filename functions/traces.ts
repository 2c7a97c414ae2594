import { InputError } from "../src/errors.ts";
import { packTrace } from "../src/trace/packTrace.ts";
import type { Cell } from "./runtime/cells.ts";
import { traceFromArgument } from "./runtime/traceFromArgument.ts";

/**
 * A trace of numbers as the text of one to four cells, side by side: short, and any damage is told.
 * @customfunction PACK
 * @param trace Columns of numbers: total force; left, right; or time, left, right; in N and s. A one-row head is allowed.
 * @param [rate] Sampling rate, in Hz; needed only without a time column.
 * @returns Packed text, in one to four cells.
 */
export function pack(trace: any[][], rate?: any): string[][] {
  const { trace: made } = traceFromArgument(trace, rate).make();
  if (!("plates" in made)) throw new InputError("wrong-shape", "packing requires forces over time, not times from a mat or video");
  return [[...packTrace(made)]];
}

/**
 * The numbers of a packed trace: time and the force of each plate as columns.
 * @customfunction UNPACK
 * @param packed One to four trace cells.
 * @returns Table with a head row; s and N.
 */
export function unpack(packed: any[][]): any[][] {
  const { trace: made } = traceFromArgument(packed, undefined).make();
  if (!("plates" in made)) {
    const times: Cell[][] = [["flight", made.flight ?? ""], ["contact", made.contact ?? ""], ["source", made.source]];
    return made.framesPerSecond === undefined ? times : [...times, ["framesPerSecond", made.framesPerSecond]];
  }
  const { rate, plates } = made;
  const rows: Cell[][] = [["time", ...plates.map(({ role }) => role)]];
  for (let i = 0; i < plates[0].force.length; i++) rows.push([i / rate, ...plates.map(({ force }) => force[i])]);
  return rows;
}
