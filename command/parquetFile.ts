import type { SchemaElement } from "hyparquet";
import { ByteWriter, ParquetWriter } from "hyparquet-writer";
import { VERSION } from "../src/version.ts";

type Kind = "text" | "json" | "number" | "count";

/** One column of a Parquet file; every one may hold nulls. */
export interface ParquetColumn {
  readonly name: string;
  readonly kind: Kind;
  readonly unit?: string;
}

/** An Apache Parquet file that is given out group by group. */
export interface ParquetFile {
  /** Adds a group of rows: the values of every column, in order of the columns. */
  group(values: readonly ArrayLike<unknown>[]): Uint8Array;
  end(metadata?: Readonly<Record<string, string>>): Uint8Array;
}

/**
 * Begins a file. Its metadata holds `leapsheet.version` and `leapsheet.units`, a JSON object with the unit of each column.
 *
 * @param name Of the rows, for instance "trials".
 */
export function parquetFile(name: string, columns: readonly ParquetColumn[]): ParquetFile {
  const bytes = new ByteWriter();
  const pairs = [
    { key: "leapsheet.version", value: VERSION },
    { key: "leapsheet.units", value: JSON.stringify(Object.fromEntries(columns.flatMap((column) => (column.unit === undefined ? [] : [[column.name, column.unit]])))) },
  ];
  const file = new ParquetWriter({ writer: bytes, schema: schemaOf(name, columns), kvMetadata: pairs, createdBy: `Leapsheet ${VERSION}` });
  /** What was written since the last time. */
  const given = (): Uint8Array => {
    const piece = bytes.getBytes().slice();
    bytes.index = 0;
    return piece;
  };
  return {
    group(values) {
      const rows = values[0]?.length ?? 0;
      if (rows > 0) void file.write({ columnData: columns.map((column, index) => ({ name: column.name, data: values[index] as unknown[] })), rowGroupSize: rows });
      return given();
    },
    end(metadata = {}) {
      for (const [key, value] of Object.entries(metadata)) pairs.push({ key, value });
      void file.finish();
      return given();
    },
  };
}

const TYPES: Readonly<Record<Kind, Partial<SchemaElement>>> = {
  text: { type: "BYTE_ARRAY", converted_type: "UTF8", logical_type: { type: "STRING" } },
  json: { type: "BYTE_ARRAY", converted_type: "JSON", logical_type: { type: "JSON" } },
  number: { type: "DOUBLE" },
  count: { type: "INT32" },
};

function schemaOf(name: string, columns: readonly ParquetColumn[]): SchemaElement[] {
  return [{ name, num_children: columns.length }, ...columns.map((column): SchemaElement => ({ name: column.name, ...TYPES[column.kind], repetition_type: "OPTIONAL" }))];
}
