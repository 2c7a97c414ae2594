import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { DuckDBInstance, type DuckDBConnection } from "@duckdb/node-api";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { parquetFormat } from "../../command/parquetFormat.ts";
import { samplesFile } from "../../command/samplesFile.ts";
import { ENTRY, writerOf } from "./entries.ts";

const folder = mkdtempSync(path.join(tmpdir(), "leapsheet-parquet-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe("DuckDB reads what the command writes", () => {
  let connection: DuckDBConnection;
  const ask = async (query: string) => (await connection.runAndReadAll(query)).getRowObjectsJson();

  beforeAll(async () => {
    const trials = writerOf(parquetFormat("CMJ"));
    const samples = samplesFile();
    const pieces: Uint8Array[] = [];
    for (const [trial, height] of [[1, 0.344], [2, 0.361]] as const) {
      trials.add({ ...ENTRY, file: "a.csv", trial, verdict: trial === 1 ? "keep" : "look", metrics: [{ id: "jumpHeight", value: height, unit: "m", u: 0.003 }] });
      pieces.push(samples.add("a.csv", trial, { rate: 1000, start: 0, step: 0, rounding: 0, plates: [{ role: "left", force: Float64Array.of(700 * trial, 800 * trial) }] }));
    }
    trials.add({ file: "b.csv", error: "empty" });
    writeFileSync(path.join(folder, "trials.parquet"), (await trials.end()) as Uint8Array);
    writeFileSync(path.join(folder, "samples.parquet"), Buffer.concat([...pieces, ...samples.end()]));
    connection = await (await DuckDBInstance.create()).connect();
    await connection.run(`set file_search_path = '${folder}'`);
  });
  afterAll(() => connection.closeSync());

  test("trials joined with their samples, an event out of its JSON", async () => {
    const rows = await ask(
      `select t.trial, t.jumpHeight, max(s.forceLeft) as peak, any_value(t.events->>'takeoff')::double as takeoff
       from 'trials.parquet' t join 'samples.parquet' s using (file, trial) group by all order by 1`,
    );
    expect(rows).toEqual([
      { trial: 1, jumpHeight: 0.344, peak: 800, takeoff: 2.5 },
      { trial: 2, jumpHeight: 0.361, peak: 1600, takeoff: 2.5 },
    ]);
  });

  test("what the guide asks, word for word", async () => {
    const guide = readFileSync(path.join(import.meta.dirname, "..", "..", "docs", "guide", "command.md"), "utf8");
    const [kept, peaks] = guide.split("\n").filter((line) => line.startsWith("select "));
    expect(await ask(kept!)).toEqual([{ file: "a.csv", trial: 1, jumpHeight: 0.344, jumpHeight_u: 0.003 }]);
    const rows = await ask(peaks!);
    expect(rows.map((row) => row["max(s.forceLeft)"]).sort()).toEqual([1600, 800]);
  });

  test("the reason of a file that failed, and units out of the metadata", async () => {
    expect(await ask("select file, error from 'trials.parquet' where error is not null")).toEqual([{ file: "b.csv", error: "empty" }]);
    const units = async (file: string) => JSON.parse(String((await ask(`select decode(value) as units from parquet_kv_metadata('${folder}/${file}') where decode(key) = 'leapsheet.units'`))[0]!["units"])) as Record<string, string>;
    expect(await units("trials.parquet")).toMatchObject({ jumpHeight: "m", jumpHeight_u: "m", peakPower: "W", start: "s" });
    expect(await units("samples.parquet")).toEqual({ time: "s", forceTotal: "N", forceLeft: "N", forceRight: "N", forceBox: "N" });
  });
});
