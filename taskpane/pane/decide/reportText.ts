import { formatProtocol } from "../../../src/protocols/formatProtocol.ts";
import { resultCautions } from "../../../src/wording/cautions.ts";
import type { AthleteReport, ReportLine } from "../../decide/reportOf.ts";
import type { Squad } from "../../decide/squadOf.ts";
import { decimalsFor, formatNumber, formatValue, prettyUnit } from "../format.ts";
import { protocolWords } from "../protocolWords.ts";
import { dayName, metricName } from "../texts.ts";
import type { UnitChoice } from "../withUnits.ts";
import { words } from "../words.ts";
import { readingTitle } from "./headings.ts";

/** A number with its uncertainty and the trials behind it: `34.5 ± 0.4 cm (3 trials)`. */
export function lineText({ unit, result }: Pick<ReportLine, "unit" | "result">): string {
  // Scatter of a quantity that hardly scatters asks for more figures than anybody can use.
  const decimals = Math.min(decimalsFor(result.value, unit, result.u), decimalsFor(result.value, unit) + 1);
  const least = 10 ** -decimals;
  const u = result.u === undefined ? "" : result.u < least / 2 ? ` ± <${formatNumber(least, decimals)}` : ` ± ${formatNumber(result.u, decimals)}`;
  const n = result.short && result.n > 1 ? words.decide.short(result.n) : words.decide.number(result.n);
  return `${formatNumber(result.value, decimals)}${u}${unit === "" ? "" : ` ${prettyUnit(unit)}`} (${result.u === undefined ? `${n}, ${words.decide.uncertaintyUnknown}` : n})`;
}

/** The report of an athlete as plain text, to paste into a message. */
export function athleteText(report: AthleteReport, made: string, units: UnitChoice): string {
  const lines: string[] = [words.decide.reportTitle(report.athlete), made, ""];
  for (const { session, lines: numbers, doubtful } of report.sessions) {
    lines.push(`${dayName(session.date)}, ${protocolWords(formatProtocol(session.protocol), units)}`);
    for (const line of numbers) lines.push(`- ${metricName(line.name)}: ${lineText(line)}`);
    if (doubtful > 0) lines.push(`- ${words.decide.doubtfulCount(doubtful)}`);
    lines.push("");
  }
  for (const reading of report.readings) lines.push(`${readingTitle(reading)} (${dayName(reading.date)}; ${reading.protocols.map((each) => protocolWords(each, units)).join(" / ")})`, reading.reading.text, "");
  if (report.sessions.length === 0) lines.push(words.decide.noReport, "");
  lines.push(words.decide.aboutUncertainty, ...resultCautions());
  return lines.join("\n");
}

/** The squad as plain text. */
export function squadText(squads: readonly Squad[], title: string, made: string, units: UnitChoice): string {
  const lines: string[] = [title, made, ""];
  for (const squad of squads) {
    const { table, results, name, unit, protocolText } = squad;
    lines.push(words.decide.squadCaption(metricName(name), protocolWords(protocolText, units), results.size));
    const order = table?.rows.map((row) => row.name) ?? [...results.keys()];
    for (const athlete of order) {
      const result = results.get(athlete);
      const row = table?.rows.find((each) => each.name === athlete);
      if (result === undefined) continue;
      const place = row?.placeFrom === undefined ? "" : `${words.decide.places} ${row.placeFrom === row.placeTo ? row.placeFrom : `${row.placeFrom}–${row.placeTo}`}: `;
      lines.push(`- ${place}${athlete}: ${lineText({ unit, result })}, ${dayName(result.session.date)}`);
    }
    if (table !== undefined) lines.push(words.decide.squadMean(formatValue(table.mean, unit), formatValue(table.sd, unit)), table.margin === undefined ? words.decide.noPlaces : (squad.errorFrom === "between days" ? words.decide.placesBetween : words.decide.placesWithin)(formatValue(table.margin, unit)));
    lines.push("");
  }
  lines.push(words.decide.aboutUncertainty, ...resultCautions());
  return lines.join("\n");
}
