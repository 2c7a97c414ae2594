import { type AstExpression, mergeRefTokens, parse, tokenize } from "@borgar/fx";
import { CellError, FUNCTIONS } from "../../functions/index.ts";
import { functionsMetadata } from "../../scripts/metadata.js";

interface FunctionMetadata {
  readonly id: string;
  readonly parameters: readonly { readonly name: string; readonly dimensionality?: string; readonly optional?: boolean }[];
}

type Value = unknown;
type Table = Value[][];

/** How one LEAP function is called: declared arguments (`null` where left out), then the invocation. */
export type Caller = (id: string, args: unknown[]) => unknown;

const metadata = (await functionsMetadata()) as { functions: FunctionMetadata[] };
const byId = new Map(metadata.functions.map((definition) => [definition.id, definition]));

/**
 * The value of a formula made of constants, arithmetic and LEAP calls, with arguments handed over as
 * Excel does: a range parameter gets a table, a left-out argument `null`.
 */
export async function evaluateFormula(formula: string, call: Caller = callDirectly): Promise<Value> {
  return evaluate(parse(mergeRefTokens(tokenize(formula, { withLocation: true }))) as AstExpression, call);
}

/** Calls a function of the table without any host between. */
export const callDirectly: Caller = (id, args) => {
  try {
    return FUNCTIONS.get(id)?.(...args, { address: "Formulas!A1" });
  } catch (thrown) {
    if (thrown instanceof CellError) return thrown;
    throw thrown;
  }
};

async function evaluate(node: AstExpression, call: Caller): Promise<Value> {
  switch (node.type) {
    case "Literal":
      return node.value;
    case "ErrorLiteral":
      return new CellError(node.value === "#N/A" ? "#N/A" : "#VALUE!", `the formula holds ${node.value}`);
    case "ArrayExpression":
      return Promise.all(node.elements.map((row) => Promise.all(row.map((element) => evaluate(element as AstExpression, call)))));
    case "UnaryExpression": {
      const value = await evaluate(node.arguments[0], call);
      return cellwise(value, 0, (a) => (node.operator === "-" ? -Number(a) : Number(a)));
    }
    case "BinaryExpression": {
      const [a, b] = await Promise.all(node.arguments.map((argument) => evaluate(argument, call)));
      return cellwise(a, b, OPERATORS[node.operator] ?? fail(`operator ${node.operator}`));
    }
    case "CallExpression":
      return callFunction(node.callee.type === "Identifier" ? node.callee.name : "", node.arguments, call);
    default:
      return fail(node.type);
  }
}

async function callFunction(name: string, given: readonly (AstExpression | null)[], call: Caller): Promise<Value> {
  const definition = byId.get(name.toUpperCase().replace(/^LEAP\./, ""));
  if (definition === undefined || !/^LEAP\./i.test(name)) return fail(`function ${name}`);
  const { parameters } = definition;
  if (given.length > parameters.length) return fail(`${given.length} arguments for ${name}`);
  const args: unknown[] = [];
  for (let i = 0; i < parameters.length; i++) {
    const node = given[i] ?? null;
    if (node === null) {
      if (!parameters[i].optional && i >= given.length) return fail(`${name} without ${parameters[i].name}`);
      args.push(null);
      continue;
    }
    const value = await evaluate(node, call);
    if (value instanceof Error) {
      args.push(parameters[i].dimensionality === "matrix" ? [[value]] : value);
    } else if (parameters[i].dimensionality === "matrix") {
      args.push(Array.isArray(value) ? value : [[value]]);
    } else {
      args.push(Array.isArray(value) ? (value as Table)[0][0] : value);
    }
  }
  return call(definition.id, args);
}

const OPERATORS: Readonly<Record<string, (a: Value, b: Value) => Value>> = {
  "+": (a, b) => Number(a) + Number(b),
  "-": (a, b) => Number(a) - Number(b),
  "*": (a, b) => Number(a) * Number(b),
  "/": (a, b) => Number(a) / Number(b),
  "^": (a, b) => Number(a) ** Number(b),
  "&": (a, b) => `${a}${b}`,
};

function cellwise(a: Value, b: Value, apply: (a: Value, b: Value) => Value): Value {
  const one = (x: Value, y: Value) => (x instanceof Error ? x : y instanceof Error ? y : apply(x, y));
  if (!Array.isArray(a) && !Array.isArray(b)) return one(a, b);
  const shape = (Array.isArray(a) ? a : b) as Table;
  const at = (value: Value, r: number, c: number) => {
    if (!Array.isArray(value)) return value;
    const table = value as Table;
    return table.length === 1 && table[0].length === 1 ? table[0][0] : table[r][c];
  };
  return shape.map((row, r) => row.map((_, c) => one(at(a, r, c), at(b, r, c))));
}

function fail(what: string): never {
  throw new Error(`this evaluator does not know ${what}`);
}
