import { TESTS, type Test } from "../src/protocols/Protocol.ts";
import { parseProtocol } from "../src/protocols/parseProtocol.ts";
import { VERSION } from "../src/version.ts";
import { explain as explainName, sourcesOf } from "../src/wording/explain.ts";
import { methodsText } from "../src/wording/methodsText.ts";
import { cellByCell } from "./runtime/cellByCell.ts";
import { rowsFrom, textFrom } from "./runtime/cells.ts";
import { settingsFromArgument } from "./runtime/settingsFromArgument.ts";

/**
 * What a name means, in plain words: a metric in any form, a setting, a quality rule, a test, an asymmetry formula or a power equation.
 * @customfunction EXPLAIN
 * @param name Name, in any case; a cell or a range.
 * @returns Definition, assumptions, what to watch for and sources.
 */
export function explain(name: any[][]): any[][] {
  return cellByCell("explanation", [{ name: "name", value: name, text: true }], (text: unknown) => explainName(String(text)));
}

/**
 * The literature behind a name: a metric, a setting, a quality rule, a test, a formula or an equation.
 * @customfunction SOURCE
 * @param name Name, in any case; a cell or a range.
 * @returns References, one a line.
 */
export function source(name: any[][]): any[][] {
  return cellByCell("source", [{ name: "name", value: name, text: true }], (text: unknown) => sourcesOf(String(text)).join("\n"));
}

/**
 * A methods paragraph of the settings used, with the references of every choice it names: to be read, completed and put into a report.
 * @customfunction METHODS
 * @param [settings] Settings range, such as LeapSettings; the defaults when left out.
 * @param [tests] Tests or protocol texts, in a cell or a range; all tests when left out.
 * @returns Paragraph and references.
 */
export function methods(settings?: any[][], tests?: any[][]): string {
  const named = rowsFrom(tests)
    .flat()
    .map((cell) => textFrom(cell, "tests"))
    .filter((text) => text !== undefined)
    .map((text) => parseProtocol(text).test);
  const chosen: readonly Test[] = named.length === 0 ? TESTS : TESTS.filter((test) => named.includes(test));
  return methodsText(settingsFromArgument(settings), chosen, VERSION);
}
