import type { ParameterMetadata } from "./FunctionMetadata.ts";
import { SheetError } from "./SheetError.ts";

/** A value of one cell as the sheet holds it: `null` is blank. */
export type SheetValue = number | string | boolean | null | SheetError;

/** What the formula gives for one parameter: nothing, one value, or a block of cells. */
export type Argument =
  | { readonly kind: "omitted" }
  | { readonly kind: "value"; readonly value: SheetValue }
  | { readonly kind: "cells"; readonly cells: SheetValue[][] };

/**
 * Turns the arguments of a formula into what Excel would pass to the same function: `null` for what is left out, rows of
 * values for a range, an array of them for a repeating parameter, the type the parameter asks for.
 *
 * @returns One entry per parameter, in order; the invocation is not included.
 * @throws {SheetError} The error of the argument that Excel would not pass on.
 */
export function marshal(parameters: readonly ParameterMetadata[], given: readonly Argument[]): unknown[] {
  const args: unknown[] = [];
  for (const [index, parameter] of parameters.entries()) {
    args.push(parameter.repeating ? given.slice(index).map((argument) => one(parameter, argument)) : one(parameter, given[index] ?? OMITTED));
  }
  return args;
}

const OMITTED: Argument = { kind: "omitted" };

function one(parameter: ParameterMetadata, argument: Argument): unknown {
  if (argument.kind === "omitted") return null;
  if (parameter.dimensionality === "matrix") {
    const cells = argument.kind === "cells" ? argument.cells : [[argument.value]];
    return cells.map((row) => row.map((value) => insideMatrix(parameter, value)));
  }
  if (argument.kind === "cells" && (argument.cells.length !== 1 || argument.cells[0].length !== 1)) {
    throw new SheetError("#VALUE!", `${parameter.name} requires a single cell or value, not a range`);
  }
  return scalar(parameter, argument.kind === "cells" ? argument.cells[0][0] : argument.value);
}

/** A blank cell inside a range is the number 0, as on Excel's desktop: one behaviour in every host. */
function insideMatrix(parameter: ParameterMetadata, value: SheetValue): unknown {
  return value === null ? (parameter.type === "string" ? "" : 0) : typed(parameter, value);
}

function scalar(parameter: ParameterMetadata, value: SheetValue): unknown {
  if (value !== null) return typed(parameter, value);
  return { number: 0, string: "", boolean: false, any: null }[parameter.type ?? "any"];
}

function typed(parameter: ParameterMetadata, value: Exclude<SheetValue, null>): unknown {
  const type = parameter.type ?? "any";
  if (type === "any") return value;
  if (value instanceof SheetError) throw value;
  if (type === "string") return typeof value === "boolean" ? (value ? "TRUE" : "FALSE") : String(value);
  const number = typeof value === "string" ? (value.trim() === "" ? NaN : Number(value)) : Number(value);
  if (type === "boolean" && typeof value === "string" && /^(true|false)$/i.test(value)) return value.toLowerCase() === "true";
  if (Number.isNaN(number)) throw new SheetError("#VALUE!", `${parameter.name} requires a ${type === "boolean" ? "TRUE or FALSE" : "number"}`);
  return type === "boolean" ? number !== 0 : number;
}
