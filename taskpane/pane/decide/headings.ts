import type { Combination } from "../../../src/sessions/pairingReason.ts";
import type { ReportReading } from "../../decide/reportOf.ts";
import { metricName } from "../texts.ts";
import { words } from "../words.ts";

/** Heading of a combination with the metric of its components. */
export function combinationTitle(kind: Combination, name: string, basis?: "gross" | "net"): string {
  return `${words.decide.kinds[kind]}: ${metricName(name)}${basis === undefined ? "" : `, ${words.decide.basis[basis]}`}`;
}

/** Heading of a reading of a report. */
export function readingTitle({ kind, about }: Pick<ReportReading, "kind" | "about">): string {
  if (kind !== "combination") return `${words.decide.readings[kind]}: ${metricName(about)}`;
  const [combination, name, basis] = about.split(" ") as [Combination, string, ("gross" | "net")?];
  return combinationTitle(combination, name, basis);
}
