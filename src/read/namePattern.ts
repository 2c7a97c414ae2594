import { InputError } from "../errors.ts";

/** What a file name may tell of a trial. */
export interface NameParts {
  readonly athlete?: string;
  readonly test?: string;
  /** As written in an example; year-month-day in an answer. */
  readonly date?: string;
  readonly trial?: string;
}

const FIELDS = ["athlete", "test", "date", "trial"] as const;
type Field = (typeof FIELDS)[number];
type DateOrder = "ymd" | "dmy" | "mdy";
const LONGEST_NAME = 200;
const PLACEHOLDER = /\{(athlete|test|date(?::(?:ymd|dmy|mdy))?|trial|\*)\}/g;

/**
 * A name pattern from one example: where the parts stand in the name, and what stands between them.
 *
 * `anna_CMJ_2031-02-28_3.csv` with athlete `anna`, test `CMJ`, date `2031-02-28` and trial `3` gives
 * `{athlete}_{test}_{date:ymd}_{trial}`. The ending does not count. Folders count where a part stands in one.
 *
 * @param name Name of a file, with folders if they matter.
 * @param parts Parts as they are written in that name.
 * @returns Pattern as text that a person can read and change.
 * @throws {InputError} `not-recognised` if a part is not in the name or two of them overlap.
 */
export function patternByExample(name: string, parts: NameParts): string {
  const stem = stemOf(name);
  const places = FIELDS.flatMap((field) => {
    const text = parts[field];
    return text === undefined || text === "" ? [] : [{ field, text, at: placeOf(stem, text, field) }];
  }).sort((a, b) => a.at - b.at);
  if (places.length === 0) throw new InputError("not-recognised", "a name pattern requires at least one part that stands in the file name");
  const inFolders = stem.lastIndexOf("/", places[0].at);
  let at = inFolders < 0 ? 0 : inFolders + 1;
  let pattern = "";
  for (const place of places) {
    if (place.at < at) throw new InputError("not-recognised", `a name pattern requires parts that do not overlap: “${place.text}” does`);
    pattern += literal(stem.slice(at, place.at)) + (place.field === "date" ? `{date:${orderOf(place.text)}}` : `{${place.field}}`);
    at = place.at + place.text.length;
  }
  return pattern + literal(stem.slice(at));
}

/**
 * Reads athlete, test, date and trial from a file name.
 *
 * @param pattern Text such as `{athlete}_{test}_{date:ymd}_{trial}`; `{*}` stands for anything, letters are compared without case.
 * @param name Name of a file, with folders if the pattern has folders.
 * @returns The parts; undefined where the name does not follow the pattern.
 * @throws {InputError} `not-recognised` if the pattern has no part or more than six.
 */
export function readByPattern(pattern: string, name: string): NameParts | undefined {
  const { expression, fields } = compile(pattern);
  const folders = pattern.split("/").length;
  const stem = stemOf(name).split("/").slice(-folders).join("/");
  if (stem.length > LONGEST_NAME) return undefined;
  const match = expression.exec(stem);
  if (!match) return undefined;
  const parts: Partial<Record<Field, string>> = {};
  for (let i = 0; i < fields.length; i++) {
    const field = fields[i];
    if (field === "*") continue;
    if (field.startsWith("date")) {
      const date = isoDate(match[i + 1], (field.split(":")[1] ?? "ymd") as DateOrder);
      if (date === undefined) return undefined;
      parts.date = date;
    } else parts[field as Field] = match[i + 1].trim();
  }
  return parts;
}

/** Path without ending, with one kind of slash. */
function stemOf(name: string): string {
  return name.replace(/\\/g, "/").replace(/\.[A-Za-z0-9]{1,6}$/, "");
}

/** The last place of a part in the name, at the bounds of a word if it stands so anywhere. */
function placeOf(stem: string, text: string, field: Field): number {
  const inside = (at: number) => /[A-Za-z0-9]/.test(stem[at - 1] ?? "") || /[A-Za-z0-9]/.test(stem[at + text.length] ?? "");
  let loose = -1;
  for (let at = stem.lastIndexOf(text); at >= 0; at = at === 0 ? -1 : stem.lastIndexOf(text, at - 1)) {
    if (!inside(at)) return at;
    if (loose < 0) loose = at;
  }
  if (loose < 0) throw new InputError("not-recognised", `a name pattern requires parts that stand in the file name: the ${field} “${text}” does not`);
  return loose;
}

/** Digits between the parts change from file to file, words mostly do not. */
function literal(text: string): string {
  return text.replace(/\d+/g, "{*}");
}

function compile(pattern: string): { expression: RegExp; fields: string[] } {
  const fields: string[] = [];
  let source = "";
  let at = 0;
  for (const match of pattern.matchAll(PLACEHOLDER)) {
    source += escaped(pattern.slice(at, match.index));
    at = match.index + match[0].length;
    const next = pattern[at];
    source += `(${classOf(match[1], next === "{" ? undefined : next)})`;
    fields.push(match[1]);
  }
  if (fields.every((field) => field === "*")) throw new InputError("not-recognised", "a name pattern requires a part such as {athlete} or {test}");
  if (fields.length > 6) throw new InputError("not-recognised", "a name pattern requires at most six parts");
  return { expression: new RegExp(`^${source}${escaped(pattern.slice(at))}$`, "i"), fields };
}

function classOf(field: string, next: string | undefined): string {
  if (field === "trial") return "\\d{1,6}";
  if (field.startsWith("date")) return "\\d{1,4}[-._ ]?\\d{1,2}[-._ ]?\\d{1,4}";
  if (field === "test") return next === undefined || /[A-Za-z]/.test(next) ? "[A-Za-z]+" : `[^/\\${next}]+?`;
  return "[^/]+?";
}

function escaped(text: string): string {
  return text.replace(/[.*+?^${}()|[\]\\/-]/g, "\\$&");
}

function orderOf(text: string): DateOrder {
  const numbers = text.split(/\D+/).filter((part) => part !== "");
  if (numbers.length === 1) return Number(text.slice(0, 4)) > 1900 ? "ymd" : "dmy";
  if (numbers[0].length === 4) return "ymd";
  return Number(numbers[1]) > 12 ? "mdy" : "dmy";
}

/** Year-month-day; undefined where there is no such day. */
function isoDate(text: string, order: DateOrder): string | undefined {
  let numbers = text.split(/\D+/).filter((part) => part !== "");
  if (numbers.length === 1) {
    const digits = numbers[0];
    const year = digits.length === 8 ? 4 : 2;
    if (digits.length !== 8 && digits.length !== 6) return undefined;
    numbers = order === "ymd" ? [digits.slice(0, year), digits.slice(year, year + 2), digits.slice(year + 2)] : [digits.slice(0, 2), digits.slice(2, 4), digits.slice(4)];
  }
  if (numbers.length !== 3) return undefined;
  const [y, m, d] = order === "ymd" ? numbers : order === "dmy" ? [numbers[2], numbers[1], numbers[0]] : [numbers[2], numbers[0], numbers[1]];
  const year = y.length === 2 ? 2000 + Number(y) : Number(y);
  const month = Number(m);
  const day = Number(d);
  const date = new Date(Date.UTC(year, month - 1, day));
  if (year < 1900 || year > 2999 || date.getUTCMonth() !== month - 1 || date.getUTCDate() !== day) return undefined;
  return `${year}-${String(month).padStart(2, "0")}-${String(day).padStart(2, "0")}`;
}
