import { describe, expect, test } from "vitest";
import { ENTRY as entry, writerOf } from "./entries.ts";
import { printed } from "../../command/entry.ts";
import { csvFormat, jsonFormat, tableFormat } from "../../command/formats.ts";

describe("formats of text", () => {
  test("json gives one array, also with a file that could not be read", () => {
    const writer = writerOf(jsonFormat);
    const text = writer.add(entry) + writer.add({ file: "b", error: "empty" }) + writer.end();
    expect(JSON.parse(text)).toEqual([printed(entry), { file: "b", error: "empty" }]);
    expect(JSON.parse(writerOf(jsonFormat).end())).toEqual([]);
  });

  test("csv quotes as RFC 4180 says and never starts a cell with a formula", () => {
    const writer = writerOf(csvFormat);
    const [head, row] = (writer.add(entry) + writer.end()).split("\n");
    expect(head).toBe("file,trial,test,protocol,start,rate,verdict,findings,error,jumpHeight,jumpHeight_u,peakForce,peakForce_u");
    expect(row).toBe(`"'=cmd,one.csv",1,CMJ,CMJ,0,1000,look,"Q9 look: legs ""bent""",,0.344,0.003,1897.9,`);
  });

  test("csv keeps a file that could not be read", () => {
    const writer = writerOf(csvFormat);
    const lines = (writer.add({ file: "bad.bin", error: "binary" }) + writer.end()).trim().split("\n");
    expect(lines).toHaveLength(2);
    expect(lines[1]).toBe("bad.bin,,,,,,,,binary");
  });

  test("csv puts the cells of a trial with other metrics under the columns of the first", () => {
    const writer = writerOf(csvFormat);
    const [jumpHeight, peakForce] = entry.metrics;
    const other = { ...entry, file: "b.csv", metrics: [{ id: "peakPower", value: 4000, unit: "W", u: 50 }, peakForce!, { id: "flightTime", value: 0.5, unit: "s" }] };
    const none = { ...entry, file: "c.csv", metrics: [] };
    const [head, , second, third] = (writer.add({ ...entry, file: "a.csv", metrics: [jumpHeight!, peakForce!] }) + writer.add(other) + writer.add(none)).split("\n");
    expect(head!.split(",").slice(-4)).toEqual(["jumpHeight", "jumpHeight_u", "peakForce", "peakForce_u"]);
    expect(second!.split(",").slice(-4)).toEqual(["", "", "1897.9", ""]);
    expect(third!.split(",").slice(-4)).toEqual(["", "", "", ""]);
  });

  test("table prints the head once and the sentence of a doubt", () => {
    const writer = writerOf(tableFormat);
    const text = writer.add(entry) + writer.add(entry);
    expect(text.match(/height cm/g)).toHaveLength(1);
    expect(text).toContain("34.4");
    expect(text).toContain('Q9 look: legs "bent"');
  });

  // A name may hold what clears a screen, colours it, breaks a line or turns the direction of writing.
  test("table spells out what would act at a terminal, in names, messages and reasons", () => {
    const writer = writerOf(tableFormat);
    const evil = "\u001b[2Ja\n0 of 0 files\r\u009b31m\u202e.csv";
    const text = writer.add({ ...entry, file: evil, findings: [{ rule: "Q9", action: "look", message: evil }] }) + writer.add({ file: evil, error: evil });
    expect(text).not.toMatch(/[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u202e]/);
    expect(text.trimEnd().split("\n")).toHaveLength(5);
    expect(text).toContain("\\u001b[2Ja\\u000a0 of 0 files\\u000d\\u009b31m\\u202e.csv");
  });
});
