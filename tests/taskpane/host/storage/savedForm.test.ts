import { readFileSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { checkSaved, fileText, FORM_VERSION, fromSaved, readFileText, textsOf, toSaved } from "../../../../taskpane/host/storage/savedForm.ts";

const NOW = new Date("2026-03-14T09:30:00Z");
const long = (mark: string) => `LEAPF1 ${mark} `.repeat(60);

const workbook = (cells: Record<string, Record<string, object>>): any => ({ id: "w", name: "W", sheetOrder: ["s"], sheets: { s: { id: "s", name: "Sheet", cellData: cells } }, resources: [] });

describe("the saved form of a workbook", () => {
  test("holds each long text once, apart from the cells, and no short one", () => {
    const { saved, texts } = toSaved(workbook({ 0: { 0: { v: long("a"), t: 1 }, 1: { v: "short", t: 1 } }, 1: { 0: { v: long("a"), t: 1 }, 1: { v: long("b"), t: 1 } } }), NOW);
    expect([...texts.values()].sort()).toEqual([long("a"), long("b")].sort());
    expect(JSON.stringify(saved)).not.toContain("LEAPF1");
    expect(JSON.stringify(saved)).toContain("short");
    expect(textsOf(saved)).toEqual(new Set(texts.keys()));
    expect(saved).toMatchObject({ version: FORM_VERSION, savedAt: "2026-03-14T09:30:00.000Z" });
  });

  test("gives back the very workbook, through a file and without", () => {
    const cell = fc.record({ v: fc.oneof(fc.double({ noNaN: true, noDefaultInfinity: true }).map((x) => x + 0), fc.string({ maxLength: 900 }), fc.string({ minLength: 480, maxLength: 2000 })), t: fc.constantFrom(1, 2, 4) });
    const row = fc.dictionary(fc.nat(20).map(String), cell);
    fc.assert(
      fc.property(fc.dictionary(fc.nat(20).map(String), row), (cells) => {
        const original = JSON.stringify(workbook(cells));
        const { saved, texts } = toSaved(JSON.parse(original), NOW);
        const read = readFileText(fileText(saved, texts));
        for (const again of [fromSaved(read.saved, read.texts), fromSaved(saved, texts)]) {
          expect(again.missing).toBe(0);
          expect(again.workbook).toEqual(JSON.parse(original));
        }
      }),
      { numRuns: 60 },
    );
  });

  // The file was written by the first program that had this form; every later one must open it.
  test("opens a workbook of version 1", () => {
    const { saved, texts } = readFileText(readFileSync(join(import.meta.dirname, "cases", "version1.json"), "utf8"));
    const { workbook: again, missing } = fromSaved(saved, texts);
    const cells = again.sheets!["sheet-1"].cellData!;
    expect(missing).toBe(0);
    expect(cells[0][0]).toEqual({ v: "athlete", t: 1 });
    expect(cells[1][1]).toEqual({ f: "=LEAP.HEIGHT_FLIGHT(0.5)", v: 0.3064578125, t: 2 });
    expect(cells[1][2]).toEqual({ v: long("kept"), t: 1 });
  });

  test("says how many texts are missing and leaves their cells blank", () => {
    const { saved } = toSaved(workbook({ 0: { 0: { v: long("a"), t: 1 }, 1: { v: long("b"), t: 1 } } }), NOW);
    const { workbook: again, missing } = fromSaved(saved, new Map());
    expect(missing).toBe(2);
    expect(again.sheets!.s.cellData![0][0]).toEqual({ t: 1 });
  });

  test("does not take a text that was altered in the file", () => {
    const { saved, texts } = toSaved(workbook({ 0: { 0: { v: long("a"), t: 1 } } }), NOW);
    const read = readFileText(fileText(saved, texts).replaceAll("LEAPF1 a", "LEAPF1 z"));
    expect(fromSaved(read.saved, read.texts).missing).toBe(1);
  });

  test.each([
    ["not JSON", "{", "damaged"],
    ["another JSON", "[1,2]", "not a Leapsheet workbook"],
    ["null", "null", "not a Leapsheet workbook"],
    ["no version", '{"format":"leapsheet-workbook","workbook":{"sheets":{}}}', "not a Leapsheet workbook"],
    ["a newer version", `{"format":"leapsheet-workbook","version":${FORM_VERSION + 1},"workbook":{"sheets":{}}}`, "newer Leapsheet"],
    ["no sheets", '{"format":"leapsheet-workbook","version":1,"workbook":{}}', "its sheets cannot be read"],
    ["sheets of another kind", '{"format":"leapsheet-workbook","version":1,"workbook":{"sheets":{"a":5}}}', "its sheets cannot be read"],
    ["cells of another kind", '{"format":"leapsheet-workbook","version":1,"workbook":{"sheets":{"a":{"cellData":[]}}}}', "its sheets cannot be read"],
  ])("refuses %s with a sentence", (_, text, sentence) => {
    expect(() => readFileText(text)).toThrow(sentence);
  });

  test("lets no file reach into the program's own objects", () => {
    const text = '{"format":"leapsheet-workbook","version":1,"__proto__":{"polluted":1},"workbook":{"sheets":{"s":{"__proto__":{"polluted":1},"constructor":{"prototype":{"polluted":1}},"cellData":{}}}},"texts":{}}';
    const { saved } = readFileText(text);
    expect(({} as { polluted?: number }).polluted).toBeUndefined();
    expect((saved.workbook.sheets!.s as { polluted?: number }).polluted).toBeUndefined();
    expect(Object.keys(saved.workbook.sheets!.s)).toEqual(["cellData"]);
  });

  test("ends for any text of a file: a workbook or a sentence", () => {
    const { saved, texts } = toSaved(workbook({ 0: { 0: { v: long("a"), t: 1 } } }), NOW);
    const good = fileText(saved, texts);
    fc.assert(
      fc.property(fc.nat(good.length - 1), fc.string({ minLength: 0, maxLength: 3 }), fc.nat(40), (at, put, cut) => {
        const text = good.slice(0, at) + put + good.slice(at + cut);
        try {
          const read = readFileText(text);
          fromSaved(read.saved, read.texts);
        } catch (error) {
          expect((error as Error).message).toMatch(/nothing was changed$/);
        }
      }),
      { numRuns: 500 },
    );
  });

  test("is checked the same way when it comes from the browser's storage", () => {
    expect(checkSaved({ format: "leapsheet-workbook", version: 1, savedAt: "", workbook: { sheets: {} } })).toBeTruthy();
    expect(() => checkSaved(undefined)).toThrow("not a Leapsheet workbook");
  });
});
