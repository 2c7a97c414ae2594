import vm from "node:vm";
import { gzipSync } from "node:zlib";
import { beforeAll, describe, expect, test } from "vitest";
import { functionsMetadata } from "../../scripts/metadata.js";
import { callDirectly, evaluateFormula } from "../support/evaluateFormula.ts";
import { expectCase, FORMULA_CASES } from "../support/formulaCases.ts";
import { builtFunctions } from "../support/functionsBundle.ts";
import { type ErrorCell, type ExcelRuntime, loadExcelRuntime, type Received } from "./excelRuntime.ts";

interface Parameter {
  readonly name: string;
  readonly dimensionality?: string;
  readonly optional?: boolean;
}

const { functions } = (await functionsMetadata()) as { functions: { id: string; parameters: Parameter[]; result: { dimensionality?: string } }[] };

/** Codes with which Excel shows a sentence: 7 is #VALUE!, 1 is #N/A. */
const CODES: Readonly<Record<number, string>> = { 7: "#VALUE!", 1: "#N/A" };
const LONGEST = "x".repeat(32_767);
const excelError = (code: string) => ({ type: "CustomFunctionError", code });

let bundle = "";
let excel: ExcelRuntime;
let milliseconds = 0;

beforeAll(async () => {
  bundle = await builtFunctions();
  loadExcelRuntime(bundle);
  const began = performance.now();
  excel = loadExcelRuntime(bundle);
  milliseconds = performance.now() - began;
}, 300_000);

/** What is wrong with what Excel would receive; nothing where Excel takes it. */
function faultsOf({ value, error }: Received, matrix: boolean): string[] {
  const faults: string[] = [];
  const checkError = (code: string | undefined, message: string | undefined) => {
    if (code !== "#VALUE!" && code !== "#N/A") faults.push(`error ${String(code)} shows no sentence`);
    if (!message) faults.push("error without a sentence");
    else if (message.includes("fault of its own")) faults.push(message);
  };
  if (error !== undefined) {
    checkError(CODES[error.code], error.message);
    return faults;
  }
  if (Array.isArray(value) !== matrix) faults.push(`${matrix ? "a table" : "one value"} was declared, not ${JSON.stringify(value)?.slice(0, 80)}`);
  const rows = (Array.isArray(value) ? value : [[value]]) as unknown[][];
  if (rows.length === 0 || rows[0].length === 0) faults.push("a table without cells");
  for (const row of rows) {
    if (!Array.isArray(row) || row.length !== rows[0].length) faults.push("a table that is not rectangular");
    for (const cell of row) {
      if (typeof cell === "string") {
        if (cell.length > 32_767) faults.push("a text longer than a cell holds");
      } else if (typeof cell === "object" && cell !== null) {
        checkError((cell as ErrorCell).error, (cell as ErrorCell).message);
      } else if (typeof cell !== "boolean" && !Number.isFinite(cell)) {
        faults.push(`${String(cell)} in a cell`);
      }
    }
  }
  return faults;
}

describe("the functions bundle in Excel's own script", () => {
  test("gives every function of functions.json by its id", () => {
    expect([...excel.associated].sort()).toEqual(functions.map(({ id }) => id).sort());
  });

  test("does no work at load: it asks for nothing that Excel adds later, and loads within 100 ms", () => {
    expect(excel.errorsTouchedAtLoad).toBe(false);
    expect(milliseconds).toBeLessThan(100);
  });

  test("loads where Office.js could not be loaded", () => {
    expect(() => vm.runInNewContext(bundle, { self: { location: { href: "https://localhost/taskpane.html" } } })).not.toThrow();
  });

  test("stays within its budget of 120 kB compressed, as it ships beside the pane", () => {
    const size = gzipSync(bundle).length;
    expect(size, `${size} bytes`).toBeLessThanOrEqual(120_000);
  });

  test.each(FORMULA_CASES.map((row) => [row.formula.slice(0, 120), row] as const))("%s", async (_, row) => {
    const call = async (id: string, args: unknown[]) => {
      const { value, error } = await excel.call(id, args.map(outgoing));
      if (error === undefined) return incoming(value);
      return Object.assign(new Error(error.message), { code: CODES[error.code] ?? `code ${error.code}` });
    };
    expectCase(row, await evaluateFormula(row.formula, call));
  });
});

/** An argument as it travels to Excel and back. */
function outgoing(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(outgoing);
  if (value instanceof Error) return excelError((value as Error & { code: string }).code);
  return value;
}

function incoming(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(incoming);
  if (typeof value === "object" && value !== null) return Object.assign(new Error((value as ErrorCell).message), { code: (value as ErrorCell).error });
  return value;
}

/** What Excel passes for one argument, by what the cell or range held. */
const KINDS: Readonly<Record<string, (matrix: boolean) => unknown>> = {
  "left-out arguments": () => null,
  "an empty cell on the web": (matrix) => (matrix ? [[null]] : null),
  "an empty cell on the desktop": (matrix) => (matrix ? [[0]] : 0),
  "an empty text": (matrix) => (matrix ? [[""]] : ""),
  "an empty range on the desktop": (matrix) => (matrix ? [[0, 0], [0, 0], [0, 0]] : 0),
  "numbers": (matrix) => (matrix ? [[0.5], [0.25]] : 0.5),
  "a row of numbers": (matrix) => (matrix ? [[800, 700, 750, 690]] : 800),
  "negative numbers": (matrix) => (matrix ? [[-3, -4], [-5, -6]] : -3),
  "huge numbers": (matrix) => (matrix ? [[1e300, -1e300], [1e-300, 5e15]] : 1e300),
  "TRUE and FALSE": (matrix) => (matrix ? [[true, false]] : true),
  "a date": (matrix) => (matrix ? [[45_987.25]] : 45_987.25),
  "an error cell": (matrix) => (matrix ? [[excelError("#DIV/0!")]] : excelError("#DIV/0!")),
  "a range with an error cell": (matrix) => (matrix ? [[1, excelError("#N/A")], [2, 3]] : 1),
  "text numbers": (matrix) => (matrix ? [["0.5", "2"], ["1e3", " 7 "]] : "0.5"),
  "words": (matrix) => (matrix ? [["CMJ", "jumpHeight"]] : "CMJ"),
  "a test": (matrix) => (matrix ? [["CMJ"]] : "CMJ"),
  "the longest text": (matrix) => (matrix ? [[LONGEST]] : LONGEST),
  "the longest text that looks packed": (matrix) => (matrix ? [[`LEAPF1 ${LONGEST}`.slice(0, 32_767)]] : "LEAPF1"),
  "text that looks like a formula": (matrix) => (matrix ? [["=1+1", "__proto__"], ["constructor", "@x"]] : "=1+1"),
  "a table with a head": (matrix) => (matrix ? [["athlete", "day 1", "day 2"], ["A", 34.1, 34.9], ["B", 38.6, 0], ["C", 41.2, 42.3]] : 1),
  "a long column": (matrix) => (matrix ? Array.from({ length: 600 }, (_, i) => [735 + Math.sin(i)]) : 735),
  "three long columns": (matrix) => (matrix ? Array.from({ length: 400 }, (_, i) => [i / 1000, 367 + Math.sin(i), 368 - Math.sin(i)]) : 1000),
};

describe("every function takes what Excel passes, and gives what Excel takes", () => {
  for (const [kind, make] of Object.entries(KINDS)) {
    test(`${kind} in every argument`, async () => {
      const received = await excel.callAll(functions.map(({ id, parameters }) => ({ id, args: parameters.map((parameter) => make(parameter.dimensionality === "matrix")) })));
      const faults = functions.flatMap(({ id, result }, i) => faultsOf(received[i], result.dimensionality === "matrix").map((fault) => `${id}: ${fault}`));
      expect(faults).toEqual([]);
    }, 60_000);
  }

  test("each kind in one argument at a time, the rest plain", async () => {
    const calls: { id: string; args: unknown[]; matrix: boolean; what: string }[] = [];
    for (const { id, parameters, result } of functions) {
      for (const [kind, make] of Object.entries(KINDS)) {
        if (kind.includes("long")) continue;
        parameters.forEach((changed, at) => {
          const args = parameters.map((parameter, i) => (i === at ? make(changed.dimensionality === "matrix") : parameter.optional ? null : parameter.dimensionality === "matrix" ? [[0.5]] : 0.5));
          calls.push({ id, args, matrix: result.dimensionality === "matrix", what: `${id}, ${kind} as ${changed.name}` });
        });
      }
    }
    const received = await excel.callAll(calls);
    expect(received.flatMap((one, i) => faultsOf(one, calls[i].matrix).map((fault) => `${calls[i].what}: ${fault}`))).toEqual([]);
  }, 120_000);

  test("a whole column is refused with a sentence, before anything is read", async () => {
    const column = Array.from({ length: 1_048_576 }, () => [0]);
    for (const [id, ...rest] of [["METRIC", "CMJ", [["jumpHeight"]], null, null, 1000], ["HEIGHT_FLIGHT", null]] as const) {
      expect(await excel.call(id, [column, ...rest])).toEqual({ error: { code: 7, message: expect.stringContaining("at most 200,000 cells") as string } });
    }
  }, 120_000);

  // To hand over a whole column takes a second, so here it is just more cells than are taken, in rows no longer than a sheet's.
  test("more cells than Excel on the web carries are refused with a sentence by every function, in whichever argument they stand", async () => {
    const range = Array.from({ length: 13 }, () => Array.from({ length: 15_400 }, () => 0));
    const taken: string[] = [];
    for (const { id, parameters } of functions) {
      for (const [at, parameter] of parameters.entries()) {
        if (parameter.dimensionality !== "matrix") continue;
        const args = parameters.map(({ dimensionality, optional }, i) => (i === at ? range : optional ? null : dimensionality === "matrix" ? [[0.5]] : 0.5));
        const { error } = await excel.call(id, args);
        if (error?.code !== 7 || !error.message?.includes("at most 200,000 cells")) taken.push(`${id}, ${parameter.name}: ${JSON.stringify(error)}`);
      }
    }
    expect(taken).toEqual([]);
  }, 240_000);

  test("a recording of 20,000 rows and three columns is analysed from its cells", async () => {
    const rows = Array.from({ length: 20_000 }, (_, i) => [i / 1000, 367 + Math.sin(i), 368 - Math.sin(i)]);
    const { value } = await excel.call("METRIC", [rows, "CMJ", [["bodyWeight", "jumpHeight"]], null, null, null]);
    expect(faultsOf({ value }, true)).toEqual([]);
    expect((value as unknown[][])[0][1]).toMatchObject({ error: "#N/A" });
  }, 120_000);

  test("the same packed text gives the same bytes as in Node, every metric and every sample", async () => {
    for (const protocol of ["CMJ", "SJ", "DJ drop=0.30", "RH", "IMTP"]) {
      const trace = await evaluateFormula(`=LEAP.SYNTHETIC("${protocol}",7,,71,0.52,1,2)`);
      for (const id of ["ANALYSE", "FINDINGS", "EVENTS", "TIME_SERIES"]) {
        const args = functions.find((definition) => definition.id === id)?.parameters.map((_, i) => [trace, protocol][i] ?? null) ?? [];
        const inNode = callDirectly(id, args);
        const { value } = await excel.call(id, args);
        expect(JSON.stringify(value), `${id} of ${protocol}`).toBe(JSON.stringify(inNode, (_, cell: unknown) => (cell instanceof Error ? { error: (cell as Error & { code: string }).code, message: cell.message } : cell)));
      }
    }
  }, 60_000);

  test("two hundred calls of one batch all come back", async () => {
    const received = await excel.callAll(Array.from({ length: 200 }, (_, i) => ({ id: "HEIGHT_FLIGHT", args: [[[0.3 + i / 1000]], null], address: `Sheet1!A${i + 1}` })));
    received.forEach(({ value }, i) => expect((value as number[][])[0][0]).toBeCloseTo((9.80665 * (0.3 + i / 1000) ** 2) / 8, 12));
  });
});
