import { beforeAll, describe, expect, test } from "vitest";
import { type AboveFloor, floorOfManifest, membersAboveFloor } from "./officeRequirements.ts";

const floor = floorOfManifest();

describe("requirement sets", () => {
  test("the floor is what the manifest declares", () => {
    expect([...floor]).toEqual([
      ["SharedRuntime", "1.1"],
      ["CustomFunctionsRuntime", "1.3"],
      ["ExcelApi", "1.14"],
    ]);
  });

  test("no source uses a member of Office.js above the floor without a guard", () => {
    const { found, looked } = membersAboveFloor(floor);
    expect(found).toEqual([]);
    // The check must have had something to look at.
    expect(looked).toBeGreaterThan(20);
  }, 60_000);

  // Sets of the members: remarks in @types/office-js 1.0.612.
  const cases: [what: string, body: string, expected: string[]][] = [
    ["a property", "return range.valuesAsJson;", ["valuesAsJson ExcelApi 1.16"]],
    ["a name in load", 'range.load("values, valuesAsJson"); return 1;', ["valuesAsJson ExcelApi 1.16"]],
    ["a name in a list in load", 'range.load(["values", "valuesAsJson"]); return 1;', ["valuesAsJson ExcelApi 1.16"]],
    ["an object in load", "range.load({ valuesAsJson: true }); return 1;", ["valuesAsJson ExcelApi 1.16"]],
    ["a collection", "return sheet.notes;", ["notes ExcelApi 1.18"]],
    ["a destructured member", "const { valuesAsJson } = range; return valuesAsJson;", ["valuesAsJson ExcelApi 1.16"]],
    ["a type", "const cell: Excel.EntityCellValue | undefined = undefined; return cell;", ["EntityCellValue ExcelApi 1.16"]],
    ["a member of the floor", 'range.load("values"); range.getSpillParent(); return range.formulas;', []],
    ["a guarded member", 'if (Office.context.requirements.isSetSupported("ExcelApi", "1.16")) return range.valuesAsJson; return 1;', []],
    ["a member whose guard is too low", 'if (Office.context.requirements.isSetSupported("ExcelApi", "1.15")) return range.valuesAsJson; return 1;', ["valuesAsJson ExcelApi 1.16"]],
    ["the other branch of a guard", 'if (Office.context.requirements.isSetSupported("ExcelApi", "1.16")) return 1; else return range.valuesAsJson;', ["valuesAsJson ExcelApi 1.16"]],
  ];
  const sample = (body: string) => `export async function sample(context: Excel.RequestContext, sheet: Excel.Worksheet, range: Excel.Range): Promise<unknown> {\n${body}\n}`;
  let found: readonly AboveFloor[] = [];
  beforeAll(() => {
    const sources = Object.fromEntries(cases.map(([, body], i) => [`taskpane/sample${i}.ts`, sample(body)]));
    found = membersAboveFloor(floor, sources, true).found;
  }, 60_000);
  test.each(cases.map(([what, , expected], i) => [what, i, expected] as const))("finds %s", (_, i, expected) => {
    const mine = found.filter(({ file }) => file === `taskpane/sample${i}.ts`);
    expect([...new Set(mine.map(({ member, needs }) => `${member} ${needs}`))]).toEqual(expected);
  });
});
