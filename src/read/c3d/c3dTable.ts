import { InputError } from "../../errors.ts";
import type { NumberTable, TableColumn } from "../NumberTable.ts";
import { c3dAnalog } from "./c3dAnalog.ts";
import { c3dParameters } from "./c3dParameters.ts";
import { c3dPlates } from "./c3dPlates.ts";

const SAMPLE_ROWS = 200;

/**
 * The force plates of a C3D file as a table: one column of vertical force a plate, or the analog channels where it names no plate.
 *
 * @param bytes Content of the file, no unit.
 * @returns Table of numbers, in the units of the file.
 * @throws {InputError} `damaged` if the file contradicts itself or ends too early.
 */
export function c3dTable(bytes: Uint8Array): NumberTable {
  const { parameters, numbers } = c3dParameters(bytes);
  const analog = c3dAnalog(numbers, parameters);
  const { plates, warnings } = c3dPlates(analog, parameters);
  const columns: TableColumn[] = plates.length > 0 ? plates.map((plate) => ({ name: `Plate ${plate.number} vertical force`, unit: "N" })) : [...analog.channels];
  const kept = new Map<number, Float64Array>();
  const column = (index: number): Float64Array => {
    let values = kept.get(index);
    if (!values) {
      values = plates.length > 0 ? plates[index].vertical() : analog.values(index);
      kept.set(index, values);
    }
    return values;
  };
  const sampleRows = Math.min(SAMPLE_ROWS, analog.samples);
  return {
    columns,
    head: [],
    rate: analog.rate,
    sampleRows,
    sample: (index) => Float64Array.from({ length: sampleRows }, (_, i) => column(index)[Math.floor((i * analog.samples) / sampleRows)]),
    decimals: () => 15,
    values: (indexes) => indexes.map((index) => finite(column(index), columns[index].name)),
    place: (row) => `sample ${row + 1}`,
    warnings,
  };
}

function finite(values: Float64Array, name: string): Float64Array {
  const at = values.findIndex((value) => !Number.isFinite(value));
  if (at >= 0) throw new InputError("not-a-number", `reading sample ${at + 1} requires a number in “${name}”`, `sample ${at + 1}`);
  return values;
}
