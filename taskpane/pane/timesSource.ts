import type { TimesRecord } from "../../src/trace/Trace.ts";
import { unpackTrace } from "../../src/trace/unpackTrace.ts";
import { TIMES_MARK } from "../../src/trace/packFormat.ts";

/** Where the times of a trial without a trace come from; `undefined` for a trace. */
export function timesSource(packed: readonly string[]): TimesRecord["source"] | undefined {
  if (packed[0]?.startsWith(`${TIMES_MARK} `) !== true) return undefined;
  try {
    const record = unpackTrace([packed[0]]);
    return "plates" in record ? undefined : record.source;
  } catch {
    return undefined;
  }
}
