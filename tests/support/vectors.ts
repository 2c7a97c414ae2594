import type { Plate, Trace } from "../../src/trace/Trace.ts";
import { dataText } from "./data.ts";

/** One synthetic vector with its exact answers and the results of the reference algorithm. */
export interface Vector {
  readonly id: string;
  readonly title: string;
  readonly parameters: Readonly<Record<string, any>>;
  readonly rate: number;
  readonly samples: number;
  readonly truth: Readonly<Record<string, any>>;
  readonly reference: Readonly<Record<string, any>>;
  readonly nodes: readonly Node[];
  /** Columns after the time, N. */
  readonly columns: readonly Float64Array[];
  readonly columnNames: readonly string[];
}

export interface Node {
  readonly t0: number;
  readonly t1: number;
  readonly v0: number;
  readonly v1: number;
  readonly a0: number;
  readonly a1: number;
  readonly z0: number;
  readonly z1: number;
  readonly tag: string;
}

interface VectorFile {
  readonly tolerance_vs_truth: Readonly<Record<string, number | string>>;
  readonly vectors: Readonly<Record<string, any>>;
}

let file: VectorFile | undefined;

function vectorFile(): VectorFile {
  file ??= JSON.parse(dataText("vectors/vectors.json")) as VectorFile;
  return file;
}

/** A vector with its samples; read anew at each call, so tests cannot disturb each other. */
export function vector(id: string): Vector {
  const entry = vectorFile().vectors[id];
  const lines = dataText(`vectors/${id}.csv`).trimEnd().split(/\r?\n/);
  const names = lines[0].split(",").slice(1);
  const columns = names.map(() => new Float64Array(lines.length - 1));
  for (let i = 1; i < lines.length; i++) {
    const cells = lines[i].split(",");
    for (let k = 0; k < columns.length; k++) columns[k][i - 1] = Number(cells[k + 1]);
  }
  return {
    id,
    title: entry.title,
    parameters: entry.parameters,
    rate: entry.sampling_hz,
    samples: entry.n_samples,
    truth: entry.truth,
    reference: entry.reference_result,
    nodes: entry.nodes,
    columns,
    columnNames: names,
  };
}

/** The vector as a trace: left and right, or the box and the landing plate. */
export function vectorTrace(given: Vector): Trace {
  const boxed = given.columnNames[0] === "F_box_N";
  const plates: Plate[] = boxed
    ? [{ role: "total", force: given.columns[1] }, { role: "box", force: given.columns[0] }]
    : [{ role: "left", force: given.columns[0] }, { role: "right", force: given.columns[1] }];
  return { rate: given.rate, plates, start: 0, step: 0, rounding: 0 };
}

/** Sum of the columns, N. */
export function vectorTotal(given: Vector): Float64Array {
  return given.columns[0].map((value, i) => value + given.columns[1][i]);
}

/** Tolerance against the truth, absolute, for a quantity by its name in the vector file; undefined where none is stated. */
export function toleranceOf(name: string, value: number): number | undefined {
  const stated = vectorFile().tolerance_vs_truth[name];
  if (typeof stated === "number") return stated;
  if (typeof stated === "string") return Number(stated.replace("rel ", "")) * Math.abs(value);
  return undefined;
}
