import type { AnyEntry, PrintedEntry } from "./entry.ts";

/** What stands before the metrics in every table. */
export const FACTS = ["file", "trial", "test", "protocol", "start", "rate", "verdict", "findings", "error"] as const;

/** The facts of an entry in the order of `FACTS`; blank where there is none. */
export function factsOf(entry: AnyEntry | PrintedEntry): (string | number)[] {
  if ("error" in entry) return [entry.file, "", "", "", "", "", "", "", entry.error];
  const findings = entry.findings.map(({ rule, action, message }) => `${rule} ${action}: ${message}`).join("; ");
  return [entry.file, entry.trial, entry.test, entry.protocol, entry.start, entry.rate, entry.verdict, findings, ""];
}
