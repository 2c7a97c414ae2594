import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { writeXlsx } from "hucre/xlsx";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { analyseFile } from "../../command/analyseFile.ts";
import { printed } from "../../command/entry.ts";
import { parseOptions } from "../../command/options.ts";
import { jumpLike } from "../src/trace/traces.ts";

describe("analyseFile", () => {
  let folder = "";
  const { plates, rate } = jumpLike(5, 1, 8);
  const rows: (string | number)[][] = [["time (s)", "left (N)", "right (N)"]];
  plates[0].force.forEach((left, i) => rows.push([i / rate, Number(left.toFixed(2)), Number(plates[1].force[i].toFixed(2))]));

  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), "leapsheet-"));
    writeFileSync(join(folder, "jump.csv"), rows.map((row) => row.join(",")).join("\n"));
    writeFileSync(join(folder, "turned.csv"), rows.map((row, i) => (i === 0 ? row : [row[0], -row[1], -row[2]]).join(",")).join("\n"));
    writeFileSync(join(folder, "jump.xlsx"), await writeXlsx({ sheets: [{ name: "Jump", rows }] }));
    writeFileSync(join(folder, "empty.csv"), "");
  });
  afterAll(() => rmSync(folder, { recursive: true }));

  const metricsOf = async (file: string, ...words: string[]) => {
    const [{ entry }] = await analyseFile(join(folder, file), parseOptions([file, "--test", "CMJ", ...words]), "0");
    const told = printed(entry);
    if ("error" in told) throw new Error(told.error);
    return told.metrics;
  };

  test("gives the same numbers from a text, a workbook and a file with the sign turned", async () => {
    const metrics = await metricsOf("jump.csv");
    // The jump was made with half a second in the air.
    expect(metrics.flightTime.value).toBeCloseTo(0.5, 2);
    expect(await metricsOf("jump.xlsx")).toEqual(metrics);
    expect(await metricsOf("turned.csv", "--invert")).toEqual(metrics);
  });

  test("takes columns and rate as they are given", async () => {
    const swapped = await metricsOf("jump.csv", "--columns", "time=1,left=3,right=2");
    const metrics = await metricsOf("jump.csv");
    expect(swapped.flightTime.value).toBeCloseTo(metrics.flightTime.value, 9);
    expect(swapped.peakForceLeft?.value).toBe(metrics.peakForceRight?.value);
    expect((await metricsOf("jump.csv", "--rate", "500")).flightTime.value).toBeCloseTo(1, 2);
  });

  test("turns a file that cannot be read into an entry with its sentence", async () => {
    for (const file of ["empty.csv", "missing.csv"]) {
      const [{ entry }] = await analyseFile(join(folder, file), parseOptions([file, "--test", "CMJ"]), "0");
      expect(entry).toMatchObject({ error: expect.stringMatching(/requires a file/) });
    }
  });

  test("keeps files apart that are read at the same time, large after small and small after large", async () => {
    const long = jumpLike(9, 1, 20);
    writeFileSync(join(folder, "long.csv"), ["time,left,right", ...Array.from(long.plates[0].force, (left, i) => `${i / long.rate},${left},${long.plates[1].force[i]}`)].join("\n"));
    const files = ["jump.csv", "long.csv", "jump.xlsx", "turned.csv", "long.csv", "empty.csv", "jump.csv"];
    const options = parseOptions([...files, "--test", "CMJ"]);
    const alone: unknown[] = [];
    for (const file of files) alone.push(await analyseFile(join(folder, file), options, "0"));
    expect(await Promise.all(files.map((file) => analyseFile(join(folder, file), options, "0")))).toEqual(alone);
    expect(alone[4]).not.toEqual(alone[6]);
  });
});
