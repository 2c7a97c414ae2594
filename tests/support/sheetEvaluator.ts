import { parse, mergeRefTokens, parseA1Ref, tokenize, type AstExpression } from "@borgar/fx";
import { CellError, FUNCTIONS } from "../../functions/index.ts";
import { functionsMetadata } from "../../scripts/metadata.js";
import type { MemoryHost } from "./memoryHost.ts";

type Value = unknown;
type Table = Value[][];

const metadata = (await functionsMetadata()) as { functions: readonly { readonly id: string; readonly parameters: readonly { readonly dimensionality?: string }[] }[] };
const parameters = new Map(metadata.functions.map((definition) => [definition.id, definition.parameters]));

/**
 * Computes the formulas of a workbook in memory, so that what was written can be compared with what the pane says. It knows the few functions of
 * a spreadsheet that our sheets use, and calls ours as Excel does: ranges as tables, blank cells of a range as `""`, left-out arguments as `null`.
 */
export class SheetEvaluator {
  private readonly known = new Map<string, Value>();
  private readonly spills = new Map<string, Value>();

  /** @param settings Rows of the range `LeapSettings`; the defaults hold without them. */
  constructor(
    private readonly host: MemoryHost,
    private readonly settings: Table | null = null,
  ) {
    // Whatever may fill cells beside its own comes first.
    for (const [sheet, cells] of host.cells) for (const [key, cell] of cells) if (/LEAP\.(METRIC|SQUAD_TABLE)\(/.test(cell.formula)) this.cell(sheet, ...(key.split(",").map(Number) as [number, number]));
  }

  /** What a cell shows. */
  cell(sheet: string, row: number, column: number): Value {
    const key = `${sheet}!${row},${column}`;
    if (this.known.has(key)) return this.known.get(key);
    const { value, formula } = this.host.cell(sheet, row, column);
    if (formula === "") {
      if (value !== "") return value;
      // A blank cell, unless a formula beside it fills it.
      return this.spills.get(key) ?? null;
    }
    this.known.set(key, new CellError("#VALUE!", "a circle"));
    let result: Value;
    try {
      result = this.evaluate(parse(mergeRefTokens(tokenize(formula, { withLocation: true }))) as AstExpression, sheet);
    } catch (thrown) {
      if (!(thrown instanceof CellError)) throw thrown;
      result = thrown;
    }
    if (Array.isArray(result)) {
      (result as Table).forEach((line, down) => line.forEach((each, right) => this.spills.set(`${sheet}!${row + down},${column + right}`, each)));
      result = (result as Table)[0][0];
    }
    this.known.set(key, result);
    return result;
  }

  /** What a formula gives as if it stood on a sheet: a value, or a table of them. */
  formula(formula: string, sheet: string): Value {
    return this.evaluate(parse(mergeRefTokens(tokenize(formula, { withLocation: true }))) as AstExpression, sheet);
  }

  private evaluate(node: AstExpression | null, sheet: string): Value {
    if (node === null) return null;
    switch (node.type) {
      case "Literal":
        return node.value;
      case "ReferenceIdentifier":
        return this.reference(node.value, sheet);
      case "ArrayExpression":
        return node.elements.map((row) => row.map((each) => this.evaluate(each as AstExpression, sheet)));
      case "UnaryExpression":
        return cellwise(this.evaluate(node.arguments[0], sheet), 0, (a) => (node.operator === "-" ? -number(a) : number(a)));
      case "BinaryExpression": {
        const [a, b] = node.arguments.map((each) => this.evaluate(each, sheet));
        return cellwise(a, b, OPERATORS[node.operator] ?? unknown(node.operator));
      }
      case "CallExpression":
        return this.call(node.callee.type === "Identifier" ? node.callee.name.toUpperCase() : "", node.arguments, sheet);
      default:
        return unknown(node.type);
    }
  }

  private reference(text: string, sheet: string): Value {
    if (text === "LeapSettings") return this.settings;
    const parsed = parseA1Ref(text);
    if (parsed === undefined || !("range" in parsed)) return unknown(text);
    const { range } = parsed;
    const on = parsed.context?.[0] ?? sheet;
    const table = Array.from({ length: range.bottom! - range.top! + 1 }, (_, down) => Array.from({ length: range.right! - range.left! + 1 }, (_, right) => this.cell(on, range.top! + down, range.left! + right)));
    return table.length === 1 && table[0].length === 1 && !text.includes(":") ? table[0][0] : table;
  }

  private call(name: string, given: readonly (AstExpression | null)[], sheet: string): Value {
    if (name.startsWith("LEAP.")) {
      const id = name.slice(5);
      const wanted = parameters.get(id) ?? unknown(name);
      const args = wanted.map((parameter, at) => {
        const node = given[at] ?? null;
        if (node === null) return null;
        const value = this.evaluate(node, sheet);
        if (parameter.dimensionality === "matrix") return value === null ? null : tableOf(value);
        return Array.isArray(value) ? (value as Table)[0][0] : value;
      });
      return FUNCTIONS.get(id)!(...args, { address: "Report!A1" });
    }
    const ask = (at: number): Value => this.evaluate(given[at] ?? null, sheet);
    const attempt = (at: number): Value => {
      try {
        return ask(at);
      } catch (thrown) {
        if (thrown instanceof CellError) return thrown;
        throw thrown;
      }
    };
    const flat = (): Value[] => given.flatMap((_, at) => tableOf(ask(at)).flat());
    switch (name) {
      case "IF": {
        const test = ask(0);
        if (test instanceof Error) return test;
        return truth(test) ? ask(1) : ask(2);
      }
      case "IFERROR": {
        const value = attempt(0);
        return Array.isArray(value) ? (value as Table).map((row) => row.map((each) => (each instanceof Error ? ask(1) : each))) : value instanceof Error ? ask(1) : value;
      }
      case "ISERROR":
        return map(attempt(0), (value) => value instanceof Error);
      case "ISNUMBER":
        return map(attempt(0), (value) => typeof value === "number");
      case "N":
        return map(ask(0), (value) => (typeof value === "number" ? value : 0));
      case "FILTER": {
        const rows = tableOf(ask(0));
        const keep = tableOf(ask(1)).flat();
        const fault = keep.find((each) => each instanceof Error);
        if (fault !== undefined) throw fault;
        const kept = rows.filter((_, at) => truth(keep[at]));
        if (kept.length === 0) throw new CellError("#N/A", "nothing was found");
        return kept;
      }
      case "INDEX":
        return tableOf(ask(0))[number(ask(1)) - 1][number(ask(2)) - 1];
      case "ROWS":
        return tableOf(ask(0)).length;
      case "SEARCH":
        return cellwise(ask(0), ask(1), (part, text) => {
          const at = String(text).toLowerCase().indexOf(String(part).toLowerCase());
          return at < 0 ? new CellError("#VALUE!", "not found") : at + 1;
        });
      case "LEFT":
        return cellwise(ask(0), ask(1), (text, count) => String(text).slice(0, number(count)));
      case "RIGHT":
        return cellwise(ask(0), ask(1), (text, count) => String(text).slice(-number(count)));
      case "LOWER":
        return String(ask(0)).toLowerCase();
      case "TRIM":
        return String(ask(0)).trim();
      case "SQRT":
        return Math.sqrt(number(ask(0)));
      case "MIN":
        return Math.min(...numbersIn(flat()));
      case "MAX":
        return Math.max(...numbersIn(flat()));
      case "AVERAGE": {
        const numbers = numbersIn(flat());
        return numbers.reduce((sum, each) => sum + each, 0) / numbers.length;
      }
      default:
        return unknown(name);
    }
  }
}

const OPERATORS: Readonly<Record<string, (a: Value, b: Value) => Value>> = {
  "+": (a, b) => number(a) + number(b),
  "-": (a, b) => number(a) - number(b),
  "*": (a, b) => number(a) * number(b),
  "/": (a, b) => (number(b) === 0 ? new CellError("#VALUE!", "a division by zero") : number(a) / number(b)),
  "^": (a, b) => number(a) ** number(b),
  "&": (a, b) => `${a ?? ""}${b ?? ""}`,
  "=": (a, b) => (a ?? "") === (b ?? ""),
  ">": (a, b) => (typeof a === "string" ? true : number(a) > number(b)),
  "<": (a, b) => number(a) < number(b),
};

function cellwise(a: Value, b: Value, apply: (a: Value, b: Value) => Value): Value {
  const one = (x: Value, y: Value): Value => {
    if (x instanceof Error) return x;
    if (y instanceof Error) return y;
    try {
      return apply(x, y);
    } catch (thrown) {
      if (thrown instanceof CellError) return thrown;
      throw thrown;
    }
  };
  if (!Array.isArray(a) && !Array.isArray(b)) return one(a, b);
  const shape = (Array.isArray(a) && (!Array.isArray(b) || a.length >= b.length) ? a : b) as Table;
  const at = (value: Value, row: number, column: number): Value => (Array.isArray(value) ? ((value as Table)[(value as Table).length === 1 ? 0 : row] ?? [])[column] : value);
  return shape.map((line, row) => line.map((_, column) => one(at(a, row, column), at(b, row, column))));
}

function map(value: Value, apply: (value: Value) => Value): Value {
  return Array.isArray(value) ? (value as Table).map((row) => row.map(apply)) : apply(value);
}

function tableOf(value: Value): Table {
  return Array.isArray(value) ? (value as Table) : [[value]];
}

function numbersIn(values: readonly Value[]): number[] {
  const fault = values.find((each) => each instanceof Error);
  if (fault !== undefined) throw fault;
  return values.filter((each): each is number => typeof each === "number");
}

function truth(value: Value): boolean {
  return value === true || (typeof value === "number" && value !== 0);
}

function number(value: Value): number {
  if (value instanceof Error) throw value;
  if (typeof value === "number") return value;
  if (typeof value === "boolean") return Number(value);
  if (value === null) return 0;
  throw new CellError("#VALUE!", "text where a number is wanted");
}

function unknown(what: string): never {
  throw new Error(`this evaluator does not know ${what}`);
}

