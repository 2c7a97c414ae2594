import { createHash } from "node:crypto";
import { describe, expect, test } from "vitest";
import { FORM, fromSaved, hashAll, hashOf, isHashed } from "../../../../taskpane/host/storage/savedForm.ts";
import { joined, partName, textsOfParts, toSavedPart, type WorkbookPart } from "../../../../taskpane/host/storage/savedParts.ts";

const long = (mark: string) => `LEAPF1 ${mark} `.repeat(60);
const part = (number: number, cells: Record<number, Record<number, object>>): WorkbookPart => ({ sheet: "s", part: number, cellData: cells, computed: { spills: [], sentences: [] } });
const head = (parts: string[]): any => ({ saved: { ...FORM, savedAt: "", workbook: { id: "w", sheets: { s: { id: "s", name: "Sheet", cellData: {} } } } }, parts });

describe("a workbook in parts", () => {
  test("is the same when it is joined again, each long text stored once", () => {
    const cells = { 0: { 0: { v: "short", t: 1 }, 3: { v: long("a"), t: 1 } }, 250: { 3: { v: long("a"), t: 1 }, 4: { v: 0.25, f: "=A1", t: 2 } } };
    const made = [part(0, { 0: structuredClone(cells[0]) }), part(2, { 250: structuredClone(cells[250]) })].map((each) => toSavedPart(each, hashOf));
    expect(made.map(({ texts }) => [...texts.values()])).toEqual([[long("a")], [long("a")]]);
    const parts = made.map(({ saved }) => saved);
    expect(JSON.stringify(parts)).not.toContain("LEAPF1");
    expect(textsOfParts(parts)).toEqual(new Set([hashOf(long("a"))]));
    const again = fromSaved(joined(head(parts.map(({ id }) => id)), parts), new Map([[hashOf(long("a")), long("a")]]));
    expect(again.missing).toBe(0);
    expect(again.workbook.sheets!.s.cellData).toEqual(cells);
  });

  test("takes no part that its head does not name, and refuses to do without one that it names", () => {
    const [first, second] = [part(0, { 0: { 0: { v: 1 } } }), part(1, { 100: { 0: { v: 2 } } })].map((each) => toSavedPart(each, hashOf).saved);
    expect(joined(head([first.id]), [first, second]).workbook.sheets!.s.cellData).toEqual({ 0: { 0: { v: 1 } } });
    expect(() => joined(head([first.id, second.id]), [first])).toThrow("a part of this workbook is missing");
    expect(() => joined(head([partName("gone", 0)]), [{ ...first, id: partName("gone", 0), sheet: "gone" }])).toThrow("missing");
  });

  test("knows the same hash whether it was found at once or by the browser: SHA-256 (NIST FIPS 180-4)", async () => {
    const texts = Array.from({ length: 70 }, (_, index) => long(`later ${index} ä`));
    await hashAll(texts);
    for (const text of texts) {
      expect(isHashed(text)).toBe(true);
      expect(hashOf(text)).toBe(createHash("sha256").update(text).digest("hex"));
    }
    expect(hashOf(long("at once"))).toBe(createHash("sha256").update(long("at once")).digest("hex"));
  });
});
