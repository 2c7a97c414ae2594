import { formatProtocol } from "../../../src/protocols/formatProtocol.ts";
import { filledFrom, type IncomingTrial } from "../../workbook/matchPlanned.ts";
import type { PlannedRow } from "../../workbook/WorkbookModel.ts";
import { protocolWords } from "../protocolWords.ts";
import type { UnitChoice } from "../withUnits.ts";
import { words } from "../words.ts";

/** Which planned row a trial fills, and as what: the facts of both together. */
export function fillsWords(trial: IncomingTrial, into: PlannedRow | undefined, units: UnitChoice): string | undefined {
  return into === undefined ? undefined : words.bringIn.fills(into.row + 1, protocolWords(formatProtocol(filledFrom(trial, into).protocol), units));
}
