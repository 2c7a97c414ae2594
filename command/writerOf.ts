import { entryWriter, type EntryWriter } from "./formats.ts";
import type { Options } from "./options.ts";

/** The writer of the format that was asked for. What only one format needs is loaded with it. */
export async function writerOf(options: Options): Promise<EntryWriter> {
  switch (options.format) {
    case "xlsx":
      return (await import("./workbookFormat.ts")).workbookWriter();
    case "parquet":
      return (await import("./parquetFormat.ts")).parquetWriter(options.protocol);
    default:
      return entryWriter(options.format);
  }
}
