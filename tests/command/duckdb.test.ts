import { createRequire } from "node:module";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { afterAll, describe, expect, test } from "vitest";
import { parquetFormat } from "../../command/parquetFormat.ts";
import { samplesFile } from "../../command/samplesFile.ts";
import { ENTRY, writerOf } from "./entries.ts";

/** DuckDB is no dependency (70 MB): `npm i --no-save @duckdb/node-api`, or a folder that holds it in NODE_PATH. */
function engine(): { DuckDBInstance: { create(): Promise<{ connect(): Promise<{ runAndReadAll(query: string): Promise<{ getRowObjectsJson(): Record<string, unknown>[] }> }> }> } } | undefined {
  try {
    return createRequire(import.meta.url)("@duckdb/node-api");
  } catch {
    return undefined;
  }
}

const duckdb = engine();
const folder = mkdtempSync(path.join(tmpdir(), "leapsheet-parquet-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe.skipIf(!duckdb)(`DuckDB ${duckdb ? "" : "(skipped: @duckdb/node-api is not installed) "}reads what the command writes`, () => {
  test("trials joined with their samples", async () => {
    const trials = writerOf(parquetFormat("CMJ"));
    const samples = samplesFile();
    const pieces: Uint8Array[] = [];
    for (const [trial, height] of [[1, 0.344], [2, 0.361]]) {
      trials.add({ ...ENTRY, file: "a.csv", trial, metrics: { jumpHeight: { value: height, unit: "m", u: 0.003 } } });
      pieces.push(samples.add("a.csv", trial, { rate: 1000, start: 0, step: 0, rounding: 0, plates: [{ role: "total", force: Float64Array.of(700 * trial, 800 * trial) }] }));
    }
    writeFileSync(path.join(folder, "trials.parquet"), (await trials.end()) as Uint8Array);
    writeFileSync(path.join(folder, "samples.parquet"), Buffer.concat([...pieces, ...samples.end()]));
    const connection = await (await duckdb!.DuckDBInstance.create()).connect();
    const rows = await connection.runAndReadAll(
      `select t.trial, t.jumpHeight, max(s.forceTotal) as peak, any_value(t.events->>'takeoff')::double as takeoff
       from '${folder}/trials.parquet' t join '${folder}/samples.parquet' s using (file, trial) group by all order by 1`,
    );
    expect(rows.getRowObjectsJson()).toEqual([
      { trial: 1, jumpHeight: 0.344, peak: 800, takeoff: 2.5 },
      { trial: 2, jumpHeight: 0.361, peak: 1600, takeoff: 2.5 },
    ]);
  });
});
