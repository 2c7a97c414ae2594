import type { Settings } from "../../../src/settings/Settings.ts";
import type { ReadingRole } from "../../../src/wording/readings.ts";
import type { ReportWords } from "../../workbook/report.ts";
import { protocolWords } from "../protocolWords.ts";
import { metricName } from "../texts.ts";
import type { UnitChoice } from "../withUnits.ts";
import { words } from "../words.ts";
import { readingTitle } from "./headings.ts";

/** What the sheets of a report say in the language of the pane, but for their titles. */
export function reportWords(made: string, settings: Settings, units: UnitChoice): Omit<ReportWords, "title"> {
  return {
    about: words.decide.aboutUncertainty,
    made,
    metricName,
    protocol: (text) => protocolWords(text, units),
    heading: readingTitle,
    doubtful: words.decide.doubtfulCount,
    role: (role: ReadingRole) => words.decide.roles[role],
    verdict: words.decide.verdictWord,
    unknown: words.decide.uncertaintyUnknown,
    fewer: words.decide.fewer(Number(settings.values["session-trials"])),
    table: words.decide.reportTable,
  };
}
