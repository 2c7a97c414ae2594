import type { ReadResult } from "./carryOut.ts";

/** The memory of the samples in a result, each piece once, to be handed from thread to thread instead of copied. */
export function samplesOf({ reading, trials }: ReadResult): ArrayBuffer[] {
  const pieces = new Set<ArrayBuffer>();
  const add = (values: Float64Array): void => {
    if (values.buffer instanceof ArrayBuffer) pieces.add(values.buffer);
  };
  for (const plate of reading?.trace?.plates ?? []) add(plate.force);
  for (const column of reading?.recording?.columns ?? []) add(column.preview);
  for (const { draft } of trials) if ("plates" in draft.trace) for (const plate of draft.trace.plates) add(plate.force);
  return [...pieces];
}
