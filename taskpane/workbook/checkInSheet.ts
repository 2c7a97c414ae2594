import { FUNCTIONS } from "../../functions/index.ts";
import type { Applied, CellInput, CellValue, SheetHost } from "../host/SheetHost.ts";
import { words } from "../pane/words.ts";

/** One value computed in a cell of the spreadsheet and what it has to be. */
export interface CheckRow {
  readonly name: string;
  readonly expected: CellValue;
  readonly got: CellValue;
  readonly pass: boolean;
}

/** Column of what the calls read, and of the calls themselves; the published checks fill the columns before. */
const INPUTS = 7;
const CALLS = 8;
const ROWS = 80;
/** What a cell shows while its function is under way, and how long that is waited for, ms. */
const UNDER_WAY = /^#(BUSY!|GETTING_DATA|CONNECT!)$/;
const PATIENCE = 30_000;
const AGAIN = 500;

/**
 * Computes the published checks, and a call of each kind that spreadsheets hand over in their own way, in cells of a sheet of its own, reads
 * them back and takes the sheet away. So it is the whole way that is tested: names, arguments, filled cells, errors.
 *
 * @returns A row for every value; what has to be comes from the checks themselves, or from calling the function without a spreadsheet.
 */
export async function checkInSheet(host: SheetHost): Promise<readonly CheckRow[]> {
  const before = await host.selection().catch(() => undefined);
  const sheet = freeName(await host.sheets());
  const calls = callsToTry();
  // The second line of a call that fills two cells must stay blank.
  const lines: CellInput[][] = Array.from({ length: 2 * calls.length }, (_, line) => [INPUT_CELLS[line] ?? null, line % 2 === 0 ? { formula: calls[line / 2]!.formula } : null]);
  let applied: Applied | undefined;
  try {
    applied = await host.apply(
      [
        { kind: "addSheet", sheet, rows: ROWS, columns: CALLS + 4 },
        { kind: "cells", sheet, row: 0, column: INPUTS, cells: lines },
        { kind: "cells", sheet, row: 0, column: 0, cells: [[{ formula: "=LEAP.SELF_CHECK()" }]] },
      ],
      { label: words.about.check },
    );
    const values = await computed(host, sheet);
    return [...publishedRows(values), ...calls.flatMap(({ name, expected }, index) => expected.map((each, line) => compared(expected.length > 1 ? `${name} ${line + 1}` : name, each, values[2 * index + line]![CALLS]!)))];
  } finally {
    if (applied !== undefined) await host.undo(applied);
    if (before !== undefined) await host.select(before).catch(() => {});
  }
}

function freeName(taken: readonly string[]): string {
  const names = new Set(taken.map((name) => name.toLowerCase()));
  for (let number = 1; ; number += 1) {
    const name = number === 1 ? "Leapsheet check" : `Leapsheet check ${number}`;
    if (!names.has(name.toLowerCase())) {
      return name;
    }
  }
}

/** The values of the sheet once no function is under way any more, or as they are when the patience is over. */
async function computed(host: SheetHost, sheet: string): Promise<readonly (readonly CellValue[])[]> {
  const until = Date.now() + PATIENCE;
  for (;;) {
    await host.settled();
    const [content] = await host.read([{ sheet, row: 0, column: 0, rows: ROWS, columns: CALLS + 1 }]);
    const { values } = content!;
    const waiting = values.some((line) => line.some((value) => typeof value === "object" && UNDER_WAY.test(value.error)));
    if (!waiting || Date.now() > until) {
      return values;
    }
    await new Promise((resolve) => setTimeout(resolve, AGAIN));
  }
}

/** The rows below the head of LEAP.SELF_CHECK. A row that the sheet lacks, or whose verdict is another than its numbers say, does not pass. */
function publishedRows(values: readonly (readonly CellValue[])[]): CheckRow[] {
  const own = (FUNCTIONS.get("SELF_CHECK")!() as CellValue[][]).slice(1);
  return own.map(([name, expected, got], index) => {
    const [shownName, shownExpected, shown, pass] = values[index + 1] ?? [];
    const whole = shownName === name && shownExpected === expected && pass === true && alike(shown ?? "", got!);
    return { name: String(name), expected: expected!, got: shown ?? "", pass: whole };
  });
}

/** What stands in the column of inputs, from the top. */
const INPUT_CELLS: readonly CellInput[] = [0.5, 0.25, "CMJ", null, true];

function callsToTry(): { name: string; formula: string; expected: CellValue[] }[] {
  const { calls } = words.about;
  const height = (time: number) => direct("HEIGHT_FLIGHT", time, null);
  const trace = direct("SYNTHETIC", "CMJ", 7);
  return [
    { name: calls.number, formula: "=LEAP.HEIGHT_FLIGHT(H1)", expected: [height(0.5)] },
    { name: calls.several, formula: "=LEAP.HEIGHT_FLIGHT(H1:H2)", expected: [height(0.5), height(0.25)] },
    { name: calls.leftOut, formula: "=LEAP.HEIGHT_FLIGHT(H1,)", expected: [height(0.5)] },
    { name: calls.blank, formula: "=LEAP.HEIGHT_FLIGHT(H4)", expected: [""] },
    { name: calls.text, formula: '=LEAP.PROTOCOL(H3,"hips")', expected: [direct("PROTOCOL", "CMJ", "hips")] },
    { name: calls.nested, formula: '=LEAP.METRIC(LEAP.SYNTHETIC(H3,7),H3,"jumpHeight")', expected: [direct("METRIC", trace, "CMJ", "jumpHeight")] },
    { name: calls.failing, formula: '=LEAP.HEIGHT_FLIGHT("x")', expected: [direct("HEIGHT_FLIGHT", "x", null)] },
  ];
}

/** The first value of a function called without a spreadsheet. */
function direct(id: string, ...args: readonly unknown[]): CellValue {
  const result = FUNCTIONS.get(id)!(...args);
  const first: unknown = Array.isArray(result) ? (result as unknown[][])[0]![0] : result;
  return first instanceof Error ? { error: (first as Error & { code: string }).code } : (first as CellValue);
}

function compared(name: string, expected: CellValue, got: CellValue): CheckRow {
  return { name, expected, got, pass: alike(got, expected) };
}

/** Equal, but for the last digits that a spreadsheet may drop of a number. */
function alike(got: CellValue, expected: CellValue): boolean {
  if (typeof got === "number" && typeof expected === "number") {
    return Math.abs(got - expected) <= 1e-12 * Math.max(1, Math.abs(expected));
  }
  if (typeof got === "object" && typeof expected === "object") {
    return got.error === expected.error;
  }
  return got === expected;
}
