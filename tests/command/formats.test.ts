import { describe, expect, test } from "vitest";
import { ENTRY as entry } from "./entries.ts";
import { entryWriter } from "../../command/formats.ts";

describe("entryWriter", () => {
  test("json gives one array, also with a file that could not be read", () => {
    const writer = entryWriter("json");
    const text = writer.add(entry) + writer.add({ file: "b", error: "empty" }) + writer.end();
    expect(JSON.parse(text)).toEqual([entry, { file: "b", error: "empty" }]);
    expect(JSON.parse(entryWriter("json").end())).toEqual([]);
  });

  test("csv quotes as RFC 4180 says and never starts a cell with a formula", () => {
    const writer = entryWriter("csv");
    const [head, row] = (writer.add(entry) + writer.end()).split("\n");
    expect(head).toBe("file,trial,test,protocol,start,rate,verdict,findings,error,jumpHeight,jumpHeight_u,peakForce,peakForce_u");
    expect(row).toBe(`"'=cmd,one.csv",1,CMJ,CMJ,0,1000,look,"Q9 look: legs ""bent""",,0.344,0.003,1897.9,`);
  });

  test("csv keeps a file that could not be read", () => {
    const writer = entryWriter("csv");
    const lines = (writer.add({ file: "bad.bin", error: "binary" }) + writer.end()).trim().split("\n");
    expect(lines).toHaveLength(2);
    expect(lines[1]).toBe("bad.bin,,,,,,,,binary");
  });

  test("table prints the head once and the sentence of a doubt", () => {
    const writer = entryWriter("table");
    const text = writer.add(entry) + writer.add(entry);
    expect(text.match(/height cm/g)).toHaveLength(1);
    expect(text).toContain("34.4");
    expect(text).toContain('Q9 look: legs "bent"');
  });

  // A name may hold what clears a screen, colours it, breaks a line or turns the direction of writing.
  test("table spells out what would act at a terminal, in names, messages and reasons", () => {
    const writer = entryWriter("table");
    const evil = "\u001b[2Ja\n0 of 0 files\r\u009b31m\u202e.csv";
    const text = writer.add({ ...entry, file: evil, findings: [{ rule: "Q9", action: "look", message: evil }] }) + writer.add({ file: evil, error: evil });
    expect(text).not.toMatch(/[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u202e]/);
    expect(text.trimEnd().split("\n")).toHaveLength(5);
    expect(text).toContain("\\u001b[2Ja\\u000a0 of 0 files\\u000d\\u009b31m\\u202e.csv");
  });
});
