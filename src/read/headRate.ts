/** A sampling rate found in the head of a file, with the line it stands in. */
export interface HeadRate {
  /** Hz. */
  readonly rate: number;
  /** Counted from one. */
  readonly line: number;
  readonly text: string;
}

/** Lines and characters looked at: enough for any head, few enough for one made to be slow. */
const MOST_LINES = 200;
const LONGEST_LINE = 300;

const NUMBER = "([0-9]+(?:[.,][0-9]+)?(?:e[-+]?[0-9]+)?)";
const NAMED = new RegExp(`(?:(?:^|[^a-z])(?:data|samples?|sampling|frame|scan|acquisition|capture|analogue?|recording)?[ _]*rate|frequency|freq|frequenz|fréquence|frecuencia|frequenza|\\bfs|\\bsr|abtastrate)[^0-9a-z]{0,20}(?:hz[^0-9]{0,8})?${NUMBER}\\s*(k?)(?:hz)?`, "i");
const HERTZ = new RegExp(`${NUMBER}\\s*(k?)hz\\b`, "i");
const INTERVAL = new RegExp(`(?:\\bdt|interval|sample time|sampling time|period)[^0-9a-z]{0,20}${NUMBER}\\s*(ms|us|µs|s)?`, "i");
const RANGE = /^range\s+([-0-9.e+]+)\s+([-0-9.e+]+)/i;
const ROWS = /^(?:datarows|nrows)\s*[= ]\s*([0-9]+)/i;

/**
 * The sampling rate that the lines above the numbers state: by name, in hertz, as an interval, as a lone number, or as the time
 * range and the number of rows.
 *
 * @param head Lines as written.
 * @returns Rate and where it stands; undefined where no line states one between 10 Hz and 100 kHz.
 */
export function headRate(head: readonly string[]): HeadRate | undefined {
  const lines = head.slice(0, MOST_LINES).map((line) => line.slice(0, LONGEST_LINE));
  return first(lines, named) ?? first(lines, interval) ?? first(lines, alone) ?? byRange(lines);
}

/** Rows the head says there are; undefined where it says nothing. */
export function headRows(head: readonly string[]): number | undefined {
  for (const line of head.slice(0, MOST_LINES)) {
    const match = ROWS.exec(line.slice(0, 200));
    if (match) return Number(match[1]);
  }
  return undefined;
}

function first(lines: readonly string[], read: (line: string) => number | undefined): HeadRate | undefined {
  for (let i = 0; i < lines.length; i++) {
    const rate = read(lines[i]);
    if (rate !== undefined && rate >= 10 && rate <= 100_000) return { rate, line: i + 1, text: lines[i].slice(0, 60).replace(/[,;\t]+$/, "").trim() };
  }
  return undefined;
}

function named(line: string): number | undefined {
  const match = NAMED.exec(line) ?? HERTZ.exec(line);
  return match ? toNumber(match[1]) * (match[2] ? 1000 : 1) : undefined;
}

function interval(line: string): number | undefined {
  const match = INTERVAL.exec(line);
  if (!match) return undefined;
  const unit = (match[2] ?? "s").toLowerCase();
  const scale = unit === "ms" ? 1e3 : unit === "s" ? 1 : 1e6;
  const rate = scale / toNumber(match[1]);
  return Math.round(rate * 1e6) / 1e6;
}

/** A line with one number and nothing else. */
function alone(line: string): number | undefined {
  const match = /^[\s,;\t"|]*([0-9]+(?:\.[0-9]+)?)[\s,;\t"|]*$/.exec(line);
  const rate = match ? Number(match[1]) : 0;
  return rate >= 50 && rate <= 20_000 ? rate : undefined;
}

function byRange(lines: readonly string[]): HeadRate | undefined {
  const rows = headRows(lines);
  for (let i = 0; i < lines.length; i++) {
    const match = RANGE.exec(lines[i]);
    if (!match || rows === undefined || rows < 3) continue;
    const rate = (rows - 1) / (Number(match[2]) - Number(match[1]));
    if (rate >= 10 && rate <= 100_000) return { rate: Math.round(rate * 1e3) / 1e3, line: i + 1, text: lines[i].slice(0, 60) };
  }
  return undefined;
}

function toNumber(text: string): number {
  return Number(text.replace(",", "."));
}
