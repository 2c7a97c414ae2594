import { parquetReadObjects } from "hyparquet";
import { describe, expect, test } from "vitest";
import { samplesFile } from "../../command/samplesFile.ts";
import type { Trace } from "../../src/trace/Trace.ts";

const trace = (start: number, plates: Trace["plates"]): Trace => ({ rate: 4, start, step: 0, rounding: 0, plates });

describe("samplesFile", () => {
  test("one row a sample, at its time in the file, with the plates a trial has", async () => {
    const file = samplesFile();
    const pieces = [
      file.add("a.csv", 1, trace(2, [{ role: "left", force: Float64Array.of(1.5, 2) }, { role: "right", force: Float64Array.of(3, 4) }])),
      file.add("a.csv", 2, trace(10, [{ role: "total", force: Float64Array.of(700.25) }])),
      ...file.end(),
    ];
    const bytes = Buffer.concat(pieces);
    const rows = await parquetReadObjects({ file: bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.length) as ArrayBuffer });
    expect(rows).toEqual([
      { file: "a.csv", trial: 1, time: 2, forceTotal: null, forceLeft: 1.5, forceRight: 3, forceBox: null },
      { file: "a.csv", trial: 1, time: 2.25, forceTotal: null, forceLeft: 2, forceRight: 4, forceBox: null },
      { file: "a.csv", trial: 2, time: 10, forceTotal: 700.25, forceLeft: null, forceRight: null, forceBox: null },
    ]);
  });

  test("gives out groups as they fill", () => {
    const file = samplesFile();
    const long = trace(0, [{ role: "total", force: new Float64Array(200_000) }]);
    expect([1, 2, 3].map((trial) => file.add("a", trial, long).length > 0)).toEqual([false, false, true]);
  });
});
