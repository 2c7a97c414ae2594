import { MAX_COLUMNS } from "./limits.ts";
import type { TableColumn } from "./NumberTable.ts";
import { isUnit, splitUnit } from "./columnNames.ts";
import { isNumberText } from "./isNumberText.ts";
import { splitLine, type TextLayout } from "./textLayout.ts";

/** Lines above the numbers among which names are looked for. */
const HEAD_ROWS = 20;
const LONGEST_NAME = 200;

/**
 * Names, groups and units of the columns, from the lines above the numbers.
 *
 * The line of names is the last one that names at least half of the columns; a line of nothing but units below it gives the units, a
 * line with fewer names above it gives groups, each for its own column and the unnamed ones to the right of it.
 *
 * @param layout Head lines and delimiter of a text.
 * @returns One entry a column; `column 3` where the head names none.
 */
export function textHead(layout: TextLayout): TableColumn[] {
  const { head, fields } = layout;
  const rows = head.slice(-HEAD_ROWS).map((line) => headFields(line, layout));
  let at = rows.length - 1;
  let units: readonly string[] | undefined;
  let names: readonly string[] | undefined;
  let groups: readonly string[] | undefined;
  for (; at >= 0; at--) {
    const row = rows[at];
    const written = row.filter((field) => field !== "");
    if (written.length === 0 || row.length > fields + 1 || written.length * 2 < Math.min(fields, 3)) continue;
    if (written.every((field) => isNumberText(field, layout.decimal))) continue;
    if (!units && written.every((field) => isUnit(field))) {
      units = row;
      continue;
    }
    names = row;
    break;
  }
  names ??= units;
  if (names && at > 0) {
    const above = rows[at - 1];
    const written = above.filter((field) => field !== "");
    if (written.length > 1 && written.length < names.filter((name) => name !== "").length && above.length <= fields + 1) groups = forwardFilled(above);
  }
  return Array.from({ length: Math.min(fields, MAX_COLUMNS) }, (_, i) => {
    const written = (names?.[i] ?? "").slice(0, LONGEST_NAME).replace(/^(?:#|%|\/\/|\*)\s*/, "");
    const split = splitUnit(written);
    const unit = units?.[i] && isUnit(units[i]) ? bareUnit(units[i]) : split.unit;
    return {
      name: split.name === "" ? `column ${i + 1}` : split.name,
      ...(groups?.[i] ? { group: groups[i].slice(0, LONGEST_NAME) } : {}),
      ...(unit ? { unit } : {}),
    };
  });
}

/** Head lines of a text cut by spaces often hold names with spaces: tabs or two spaces then cut them. */
function headFields(line: string, layout: TextLayout): string[] {
  const fields = splitLine(line, layout.delimiter, layout.quoted);
  if (layout.delimiter !== "spaces" || fields.length === layout.fields) return fields.map(unquoted);
  const wider = line.trim().split(/\t+| {2,}/);
  if (wider.length === layout.fields) return wider;
  const withoutMark = line.trim().replace(/^(?:#|%|\/\/)\s*/, "").split(/\s+/);
  return withoutMark.length === layout.fields ? withoutMark : fields;
}

function unquoted(field: string): string {
  return field.length > 1 && field.startsWith('"') && field.endsWith('"') ? field.slice(1, -1).trim() : field;
}

function forwardFilled(row: readonly string[]): string[] {
  let group = "";
  return row.map((field) => (group = field === "" ? group : field));
}

function bareUnit(text: string): string {
  return text.replace(/^[[(]\s*|\s*[\])]$/g, "");
}
