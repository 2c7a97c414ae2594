import { describe, expect, test } from "vitest";
import { latestByTrial, record, recordedRows, type RecordDraft } from "../../../taskpane/workbook/record.ts";
import { VERSION } from "../../../src/version.ts";
import { MemoryHost } from "../../support/memoryHost.ts";

const draft = (key: string, metrics: RecordDraft["metrics"]): RecordDraft => ({
  athlete: "Ada Example", date: "2026-03-14", protocol: "CMJ arms=hips", use: "keep", verdict: "keep", key, adjust: "", settingsDigest: "s1", metrics,
});
const morning = new Date("2026-03-14T09:00:00Z");

describe("record", () => {
  test("keeps values, uncertainty, settings digest, protocol and version as plain values", async () => {
    const host = new MemoryHost();
    await record(host, [draft("aa@0.0000", [{ name: "jumpHeight cm", value: 34.4, u: 0.3 }, { name: "peakForce", value: 1898 }])], morning);
    const [row] = await recordedRows(host);
    expect(row).toMatchObject({ athlete: "Ada Example", date: "2026-03-14", protocol: "CMJ arms=hips", settingsDigest: "s1", version: VERSION, recorded: "2026-03-14T09:00:00.000Z" });
    expect([...row!.values]).toEqual([["jumpHeight cm", { value: 34.4, u: 0.3 }], ["peakForce", { value: 1898 }]]);
    expect([...host.cells.get("Record")!.values()].every((cell) => cell.formula === "")).toBe(true);
  });

  test("appends when the same trial is recorded again, and the latest counts", async () => {
    const host = new MemoryHost();
    await record(host, [draft("aa@0.0000", [{ name: "jumpHeight cm", value: 34.4 }])], morning);
    await record(host, [draft("aa@0.0000", [{ name: "jumpHeight cm", value: 34.9 }])], new Date("2026-03-14T10:00:00Z"));
    const rows = await recordedRows(host);
    expect(rows).toHaveLength(2);
    expect(latestByTrial(rows).map((row) => row.values.get("jumpHeight cm")!.value)).toEqual([34.9]);
  });

  test("says what measured a trial where that were no force plates", async () => {
    const host = new MemoryHost();
    await record(host, [draft("aa@0.0000", [{ name: "jumpHeight cm", value: 34.4 }])], morning);
    await record(host, [{ ...draft("bb@0.0000", [{ name: "jumpHeight cm", value: 36 }]), instrument: "mat" }], morning);
    const rows = await recordedRows(host);
    expect(rows.map((row) => row.instrument)).toEqual(["", "mat"]);
    expect(rows[1]!.values).toEqual(new Map([["jumpHeight cm", { value: 36 }]]));
  });

  test("widens the table for metrics it did not have", async () => {
    const host = new MemoryHost();
    await record(host, [draft("aa@0.0000", [{ name: "jumpHeight cm", value: 34.4 }])], morning);
    await record(host, [draft("bb@0.0000", [{ name: "rsi", value: 1.5 }])], morning);
    const rows = await recordedRows(host);
    expect(rows.map((row) => [...row.values.keys()])).toEqual([["jumpHeight cm"], ["rsi"]]);
  });
});
