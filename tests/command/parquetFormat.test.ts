import { parquetMetadata, parquetReadObjects } from "hyparquet";
import { describe, expect, test } from "vitest";
import type { AnyEntry } from "../../command/entry.ts";
import { parquetFormat } from "../../command/parquetFormat.ts";
import { metricsOf } from "../../src/catalogue/metrics.ts";
import { ENTRY, writerOf } from "./entries.ts";

/** The file of these entries; how many pieces came before its end. */
async function written(entries: readonly AnyEntry[]): Promise<{ file: ArrayBuffer; early: number }> {
  const writer = writerOf(parquetFormat("CMJ arms=hips"));
  const pieces = [];
  for (const entry of entries) pieces.push(writer.add(entry));
  const early = pieces.filter((piece) => piece.length > 0).length;
  const all = Buffer.concat([...pieces, await writer.end()].map((piece) => Buffer.from(piece)));
  return { file: all.buffer.slice(all.byteOffset, all.byteOffset + all.length) as ArrayBuffer, early };
}

describe("parquetFormat", () => {
  test("an independent reader finds the trials and the files that failed", async () => {
    const { file } = await written([ENTRY, { file: "b.csv", error: "empty" }]);
    const [first, second] = await parquetReadObjects({ file });
    expect(first).toMatchObject({ file: "=cmd,one.csv", trial: 1, start: 0, rate: 1000, verdict: "look", jumpHeight: 0.344, jumpHeight_u: 0.003, peakForce: 1897.9, peakForce_u: null, error: null });
    expect(typeof first.findings === "string" ? JSON.parse(first.findings) : first.findings).toEqual(ENTRY.findings);
    expect(second).toMatchObject({ file: "b.csv", trial: null, jumpHeight: null, error: "empty" });
  });

  test("every run of a test has the same columns, with their units and the settings in the metadata", async () => {
    const { file } = await written([ENTRY]);
    const { schema, key_value_metadata: pairs = [], num_rows: rows } = parquetMetadata(file);
    const metadata = Object.fromEntries(pairs.map(({ key, value }) => [key, value ?? ""]));
    const names = schema.slice(1).map(({ name }) => name);
    expect(rows).toBe(1n);
    for (const { id, unit, forms } of metricsOf("CMJ")) {
      expect(names).toContain(id);
      expect(names).toContain(`${id}_u`);
      expect(names.includes(`${id}Left`)).toBe(forms.sides === true);
      expect(JSON.parse(metadata["leapsheet.units"])[id]).toBe(unit);
    }
    expect(names).toEqual(parquetMetadata((await written([])).file).schema.slice(1).map(({ name }) => name));
    expect(JSON.parse(metadata["leapsheet.settings"])).toEqual(ENTRY.settings);
    expect(metadata["leapsheet.version"]).toMatch(/^\d/);
  });

  test("gives out groups of rows as they fill, so that memory does not grow with the folder", async () => {
    const entries = Array.from({ length: 12_345 }, (_, i): AnyEntry => ({ ...ENTRY, file: `${i}.csv`, metrics: [{ id: "jumpHeight", value: i / 7, unit: "m" }] }));
    const { file, early } = await written(entries);
    expect(early).toBe(2);
    const rows = await parquetReadObjects({ file, columns: ["file", "jumpHeight"] });
    expect(rows).toHaveLength(12_345);
    expect(rows.every(({ file: name, jumpHeight }, i) => name === `${i}.csv` && jumpHeight === i / 7)).toBe(true);
  });
});
