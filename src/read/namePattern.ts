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
  const pieces = piecesOf(pattern);
  const folders = pattern.split("/").length;
  const stem = stemOf(name).split("/").slice(-folders).join("/");
  if (stem.length > LONGEST_NAME) return undefined;
  const texts = matched(pieces, stem);
  if (!texts) return undefined;
  const parts: Partial<Record<Field, string>> = {};
  for (let i = 0; i < texts.length; i++) {
    const { field } = pieces[i] as FieldPiece;
    if (field === "*") continue;
    if (field.startsWith("date")) {
      const date = isoDate(texts[i], (field.split(":")[1] ?? "ymd") as DateOrder);
      if (date === undefined) return undefined;
      parts.date = date;
    } else parts[field as Field] = texts[i].trim();
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

/** Text that stands in the name, in small letters, and the field after it; the last piece has none. */
interface Piece {
  readonly text: string;
  readonly field?: string;
  /** Lengths that the field may have from a place of the name, the first that fits counts. */
  readonly lengths?: (stem: string, at: number) => readonly number[];
}

type FieldPiece = Required<Piece>;

function piecesOf(pattern: string): readonly Piece[] {
  const pieces: FieldPiece[] = [];
  let at = 0;
  for (const match of pattern.matchAll(PLACEHOLDER)) {
    const text = small(pattern.slice(at, match.index));
    at = match.index + match[0].length;
    pieces.push({ text, field: match[1], lengths: lengthsOf(match[1], pattern[at]) });
  }
  if (pieces.every(({ field }) => field === "*")) throw new InputError("not-recognised", "a name pattern requires a part such as {athlete} or {test}");
  if (pieces.length > 6) throw new InputError("not-recognised", "a name pattern requires at most six parts");
  return [...pieces, { text: small(pattern.slice(at)) }];
}

/**
 * Texts of the fields in the name, the first way in which it follows the pattern from end to end. A piece that led nowhere from a place is
 * not tried from there again, so the time grows with the length of the name and not with the number of ways.
 */
function matched(pieces: readonly Piece[], stem: string): readonly string[] | undefined {
  const letters = small(stem);
  const failed = pieces.map(() => new Set<number>());
  const follow = (index: number, from: number): readonly string[] | undefined => {
    if (failed[index].has(from)) return undefined;
    const { text, lengths } = pieces[index];
    const at = from + text.length;
    if (letters.startsWith(text, from)) {
      if (lengths === undefined) {
        if (at === stem.length) return [];
      } else {
        for (const length of lengths(stem, at)) {
          const rest = follow(index + 1, at + length);
          if (rest !== undefined) return [stem.slice(at, at + length), ...rest];
        }
      }
    }
    failed[index].add(from);
    return undefined;
  };
  return follow(0, 0);
}

/** Lengths of a field by its kind: a trial and a test in letters as long as they go, names as short as the rest allows. */
function lengthsOf(field: string, next: string | undefined): FieldPiece["lengths"] {
  if (field === "trial") return (stem, at) => upTo(runOf(stem, at, isDigit, 6)).reverse();
  if (field.startsWith("date")) return dateLengths;
  if (field !== "test") return (stem, at) => upTo(runOf(stem, at, (sign) => sign !== "/"));
  if (next === undefined || next === "{" || isLetter(next)) return (stem, at) => upTo(runOf(stem, at, isLetter)).reverse();
  return (stem, at) => upTo(runOf(stem, at, (sign) => sign !== "/" && sign !== next));
}

/** Three numbers, with or without a mark between them: the longest first. */
function dateLengths(stem: string, at: number): readonly number[] {
  const ends = (from: readonly number[], most: number): readonly number[] => from.flatMap((start) => upTo(runOf(stem, start, isDigit, most)).reverse().map((length) => start + length));
  const marks = (from: readonly number[]): readonly number[] => from.flatMap((end) => (/[-._ ]/.test(stem[end] ?? "") ? [end + 1, end] : [end]));
  return [...new Set(ends(marks(ends(marks(ends([at], 4)), 2)), 4))].map((end) => end - at);
}

/** Small letters, one for each: a few languages have a capital whose small form is two. */
function small(text: string): string {
  return text.replace(/[^]/g, (letter) => letter.toLowerCase()[0]);
}

/** How many signs of a kind stand in a row. */
function runOf(stem: string, at: number, isKind: (sign: string) => boolean, most = Infinity): number {
  let length = 0;
  while (length < most && at + length < stem.length && isKind(stem[at + length])) length += 1;
  return length;
}

function isDigit(sign: string): boolean {
  return /\d/.test(sign);
}

function isLetter(sign: string): boolean {
  return /[A-Za-z]/.test(sign);
}

function upTo(length: number): number[] {
  return Array.from({ length }, (_, place) => place + 1);
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
