import type { CallRecord } from "../../functions/runtime/callRecord.ts";
import type { LeapCall } from "./leapCalls.ts";

/**
 * The record of each call in a formula, where it was reached when the cell was calculated.
 *
 * Records come in the order in which the calls ran (inner before outer, left before right), which is the order of the closing brackets.
 * Where some calls were not reached, literal arguments tell which: a record goes to the first call of its name that could have made it.
 *
 * @returns One entry per call, `undefined` for a call that was not reached.
 */
export function matchRecords(calls: readonly LeapCall[], records: readonly CallRecord[]): readonly (CallRecord | undefined)[] {
  const matched: (CallRecord | undefined)[] = calls.map(() => undefined);
  const names = new Set(calls.map((call) => call.name));
  for (const name of names) {
    const inOrder = calls.filter((call) => call.name === name).sort((a, b) => a.end - b.end);
    const made = records.filter((record) => record.name === name).sort((a, b) => a.call - b.call);
    // Calls with the very same text share one record.
    const distinct = inOrder.filter((call, place) => inOrder.findIndex((other) => sameText(other, call)) === place);
    // As many records as calls: all were reached, whatever became of their arguments on the way.
    const all = distinct.length === made.length;
    let next = 0;
    for (const call of distinct) {
      const at = made.findIndex((record, place) => place >= next && (all || fits(call, record)));
      if (at < 0) continue;
      for (const same of inOrder) if (sameText(same, call)) matched[same.index] = made[at];
      next = at + 1;
    }
  }
  return matched;
}

function sameText(a: LeapCall, b: LeapCall): boolean {
  return a.args.length === b.args.length && a.args.every((text, place) => text.toUpperCase() === b.args[place].toUpperCase());
}

/** Whether the literal arguments of a call are those of the record. */
function fits(call: LeapCall, record: CallRecord): boolean {
  return call.args.every((text, place) => {
    const literal = literalOf(text);
    if (literal === undefined) return true;
    let value: unknown = record.args[place];
    while (Array.isArray(value) && value.length === 1) value = value[0];
    return value === literal || (literal === "" && (value === undefined || value === null));
  });
}

function literalOf(text: string): string | number | boolean | undefined {
  if (/^"(?:[^"]|"")*"$/.test(text)) return text.slice(1, -1).replaceAll('""', '"');
  if (/^[+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?$/i.test(text)) return Number(text);
  if (/^(?:true|false)$/i.test(text)) return text.toLowerCase() === "true";
  return undefined;
}
