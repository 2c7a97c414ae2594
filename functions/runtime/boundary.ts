import { InputError } from "../../src/errors.ts";
import { CellError } from "./CellError.ts";
import { recordCall } from "./callRecord.ts";
import { cellErrorFrom } from "./cellErrorFrom.ts";
import type { Cell } from "./cells.ts";
import { toCells } from "./toCells.ts";

/** What a host tells a function about its cell; always comes after the declared arguments. */
export interface Invocation {
  readonly address?: string;
}

/** A cell function as a host calls it: declared arguments (`null` where left out), then the invocation. */
export type CellFunction = (...args: any[]) => Cell | Cell[][];

let analysisKey: string | undefined;

/** Says which analysis the running call used, for its record. */
export function noteAnalysis(key: string): void {
  analysisKey = key;
}

/** Above this many cells in one call Excel on the web refuses to carry it (5 MB, about 20 bytes a cell). */
const MOST_CELLS = 200_000;

function requireCarried(args: readonly unknown[]): void {
  let cells = 0;
  for (const arg of args) if (Array.isArray(arg)) cells += arg.length * (Array.isArray(arg[0]) ? arg[0].length : 1);
  if (cells > MOST_CELLS) {
    throw new InputError("too-large", "a formula requires ranges of at most 200,000 cells in all: choose the filled cells only, or pack the trace first");
  }
}

/**
 * The one boundary between a sheet and a function: a left-out argument becomes `undefined`, every
 * throw a `CellError` with a sentence, the result what a cell can hold, and the call is recorded.
 */
export function boundary(id: string, compute: (...args: any[]) => unknown): CellFunction {
  const declared = compute.length;
  return (...given) => {
    const args: unknown[] = new Array(declared);
    for (let i = 0; i < declared; i++) args[i] = given[i] === null ? undefined : given[i];
    const address = (given[declared] as Invocation | null | undefined)?.address;
    analysisKey = undefined;
    let result: Cell | Cell[][];
    try {
      requireCarried(args);
      result = toCells(compute(...args));
    } catch (thrown) {
      result = cellErrorFrom(thrown);
    }
    if (typeof address === "string" && address !== "") recordCall({ cell: address, name: id, args, result, analysisKey });
    if (result instanceof CellError) throw result;
    return result;
  };
}
