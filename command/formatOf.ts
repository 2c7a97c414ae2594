import { csvFormat, jsonFormat, tableFormat, type Format } from "./formats.ts";
import type { Options } from "./options.ts";

/** The format that was asked for. What only one format needs is loaded with it. */
export async function formatOf(options: Options): Promise<Format> {
  switch (options.format) {
    case "xlsx":
      return (await import("./workbookFormat.ts")).workbookFormat;
    case "parquet":
      return (await import("./parquetFormat.ts")).parquetFormat(options.protocol);
    case "json":
      return jsonFormat;
    case "csv":
      return csvFormat;
    case "table":
      return tableFormat;
  }
}
