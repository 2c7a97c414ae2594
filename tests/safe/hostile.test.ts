import { tokenize } from "@borgar/fx";
import { writeXlsx } from "hucre/xlsx";
import { afterAll, beforeEach, describe, expect, test } from "vitest";
import { CellError } from "../../functions/index.ts";
import { resolveMetricName } from "../../src/catalogue/resolveMetricName.ts";
import { InputError } from "../../src/errors.ts";
import { asymmetry } from "../../src/metrics/asymmetry.ts";
import { parseAdjust } from "../../src/protocols/parseAdjust.ts";
import { parseProtocol } from "../../src/protocols/parseProtocol.ts";
import { openRecording } from "../../src/read/openRecording.ts";
import { recipeFrom } from "../../src/read/recipeFrom.ts";
import { readRecording } from "../../src/read/readRecording.ts";
import { settingsFrom } from "../../src/settings/settingsFrom.ts";
import { crc32 } from "../../src/trace/crc32.ts";
import { unpackTrace } from "../../src/trace/unpackTrace.ts";
import { readWorkbook } from "../../src/workbook/readWorkbook.ts";
import type { WorkbookFile } from "../../src/workbook/WorkbookFile.ts";
import { writeWorkbook } from "../../src/workbook/writeWorkbook.ts";
import { createOfficeHost } from "../../taskpane/host/createOfficeHost.ts";
import { fromSaved, readFileText } from "../../taskpane/host/storage/savedForm.ts";
import { codeNames, keyText, namesAgain, readKeyText } from "../../taskpane/workbook/codeNames.ts";
import { createWorkbookModel } from "../../taskpane/workbook/createWorkbookModel.ts";
import { record, recordedRows } from "../../taskpane/workbook/record.ts";
import { writeSessions } from "../../taskpane/workbook/sessions.ts";
import type { TrialDraft } from "../../taskpane/workbook/WorkbookModel.ts";
import { groupTrials } from "../../taskpane/pane/groupTrials.ts";
import { namesByPattern } from "../../taskpane/pane/bringIn/namesByPattern.ts";
import { rememberedRecipes, rememberRecipe } from "../../taskpane/pane/bringIn/recipes.ts";
import { storedZip, unzip } from "../fuzz/storedZip.ts";
import { evaluateFormula } from "../support/evaluateFormula.ts";
import { FakeExcel } from "../support/fakeExcel.ts";
import { FORMULA_CASES } from "../support/formulaCases.ts";
import { PeopleHost } from "../support/peopleHost.ts";
import { seededRandom } from "../support/seededRandom.ts";

/** Names that every object of the language has, or that change one. */
const OWN_NAMES = ["__proto__", "constructor", "prototype", "toString", "hasOwnProperty", "valueOf", "__defineGetter__"] as const;
/** Names that a spreadsheet, a page or a formula could take for more than a name. */
const INJECTED = [
  '=HYPERLINK("http://example.org","x")', "+1+cmd|' /C calc'!A0", "@SUM(1+1)", "-2+3", '"&WEBSERVICE("http://example.org")&"', '")+LEAP.VERSION()+("', "<img src=x onerror=alert(1)>",
  "</title><script>alert(1)</script>", "'!A1", "{=1}", "\t=1+1", "Ada\n=1+1", "#REF!", "%00", "../../etc",
] as const;

const draft = (hash: string, athlete: string, more: Partial<TrialDraft> = {}): TrialDraft => ({
  athlete,
  date: "2026-03-14",
  protocol: { test: "CMJ" },
  file: athlete,
  startInFile: 0,
  hash,
  trace: { rate: 1000, plates: [{ role: "total", force: new Float64Array(64).fill(700) }], start: 0, step: 0, rounding: 0 },
  ...more,
});

/** The outcome of a reader, the time it took, and that it was none but a sentence or a result. */
async function outcome<T>(read: () => T | Promise<T>): Promise<T | InputError> {
  const started = performance.now();
  const result = await Promise.resolve()
    .then(read)
    .catch((error: unknown) => {
      if (!(error instanceof InputError)) throw error;
      return error;
    });
  expect(performance.now() - started).toBeLessThan(2000);
  return result;
}

afterAll(() => {
  // Whatever came in: the language's own objects are as they were.
  expect(Object.keys(Object.prototype)).toEqual([]);
  expect(({} as Record<string, unknown>).polluted).toBeUndefined();
});

describe("names of the language's own objects are names only", () => {
  test("in every text argument of every cell function", async () => {
    let tried = 0;
    for (const { formula } of FORMULA_CASES) {
      const tokens = tokenize(formula);
      for (const [at, { type }] of tokens.entries()) {
        if (type !== "string") continue;
        for (const name of OWN_NAMES) {
          const changed = tokens.map(({ value }, index) => (index === at ? `"${name}"` : value)).join("");
          const result = await evaluateFormula(changed);
          for (const cell of (Array.isArray(result) ? (result as unknown[][]) : [[result]]).flat()) {
            tried += 1;
            if (cell instanceof CellError) expect(cell.message, changed).not.toContain("fault of its own");
            else expect(["string", "number", "boolean"], `${changed} gave ${String(cell)}`).toContain(typeof cell);
            expect(String(cell), changed).not.toMatch(/native code|\[object|=>/);
          }
        }
      }
    }
    expect(tried).toBeGreaterThan(2000);
  }, 120_000);

  test.each(OWN_NAMES)("%s as setting, value, metric, test, part of a protocol, adjustment and formula is refused by name", (name) => {
    const unknown = expect.objectContaining({ name: "InputError", code: expect.stringMatching(/^(unknown-name|wrong-shape)$/) });
    expect(() => settingsFrom([[name, 1]])).toThrow(unknown);
    expect(() => settingsFrom([["height-method", name]])).toThrow(unknown);
    for (const form of [name, `${name} cm`, `${name}Left`, `jumpHeight ${name}`]) expect(() => resolveMetricName(form)).toThrow(unknown);
    expect(() => parseProtocol(name)).toThrow(unknown);
    expect(() => parseProtocol(`CMJ ${name}=1`)).toThrow(unknown);
    expect(() => parseProtocol(`CMJ arms=${name}`)).toThrow(unknown);
    expect(() => parseAdjust(`${name}=1`)).toThrow(unknown);
    expect(() => asymmetry(1, 2, name)).toThrow(unknown);
    expect(namesByPattern("{test}_{athlete}", `${name}_${name}.csv`)?.test).toBeUndefined();
  });

  test("as columns of a recording and in the recipe that reads it", async () => {
    const rows = Array.from({ length: 400 }, (_, i) => `${i / 1000},${700 + (i % 7)},${i}`);
    for (const name of OWN_NAMES) {
      const bytes = new TextEncoder().encode([`time,${name} (N),${name}`, ...rows].join("\n"));
      const recording = readRecording(bytes, `${name}.csv`, { forces: [{ role: "total", column: 2 }] });
      expect(recording.columns[1]).toMatchObject({ name });
      expect(recording.trace().plates[0]!.force).toHaveLength(400);
      // A recipe that was stored as text may hold anything.
      for (const recipe of [`{"${name}":{"polluted":1}}`, `{"forces":[{"role":"${name}","column":2}]}`, `{"delimiter":"${name}"}`, `{"decimal":{"${name}":1}}`]) {
        const result = await outcome(() => readRecording(bytes, "x.csv", recipeFrom(JSON.parse(recipe))).trace());
        if (!(result instanceof InputError)) expect(["total", "left", "right", "box"]).toContain(result.plates[0]!.role);
      }
    }
  });

  test("as people, in the sheets, groups, the record and the codes", async () => {
    const host = new PeopleHost();
    const workbook = createWorkbookModel(host);
    await workbook.addTrials(OWN_NAMES.map((name, index) => draft(`h${index}`, name, { date: index % 2 === 0 ? "2026-03-14" : "2026-03-15" })));
    const rows = await workbook.trials();
    expect(rows.map(({ athlete }) => athlete)).toEqual([...OWN_NAMES]);
    const groups = groupTrials(rows.map((row) => ({ row, verdict: "keep" as const, use: "keep" as const, doubtful: false, decidedBy: "verdict" as const })), "all", "");
    expect(groups.map(({ athlete }) => athlete).sort()).toEqual([...OWN_NAMES].sort());
    await record(host, rows.map(({ athlete, key }) => ({ athlete, date: "2026-03-14", protocol: "CMJ", use: "keep", verdict: "keep", key, adjust: "", settingsDigest: athlete, metrics: [{ name: athlete, value: 1 }] })), new Date("2026-03-14T09:00:00Z"));
    expect((await recordedRows(host)).map(({ athlete, values }) => [athlete, values.get(athlete)!.value])).toEqual(OWN_NAMES.map((name) => [name, 1]));
    await writeSessions(host, workbook);
    const file: WorkbookFile = { names: [], sheets: [{ name: "Trials", cells: [{ row: 0, column: 0, value: "athlete" }, ...OWN_NAMES.map((value, index) => ({ row: index + 1, column: 0, value: `${value} Example` }))] }] };
    const coded = codeNames(file, seededRandom(3));
    expect(JSON.stringify(coded.file)).not.toMatch(/proto|construct|toString|Own|valueOf|define|Example/i);
    expect(namesAgain(coded.file, readKeyText(keyText(coded.key)))).toEqual(file);
  });
});

describe("names that could be taken for formulas or markup", () => {
  // By what stands in the cell in each host: the text itself, and no formula.
  test.each(INJECTED)("%j stays text in Trials and is only compared in formulas", async (name) => {
    const excel = new FakeExcel();
    const inExcel = createWorkbookModel(createOfficeHost({ run: excel.run as unknown as typeof Excel.run }));
    await inExcel.addTrials([draft("a", name)]);
    expect(excel.workbook.get("Trials", 1, 0)).toBe(name);
    expect(excel.workbook.get("Trials", 1, 12)).toBe(name);

    const host = new PeopleHost();
    const workbook = createWorkbookModel(host);
    await workbook.addTrials([draft("a", name)]);
    await workbook.setKeep("a@0.0000", "leave out", name);
    await writeSessions(host, workbook);
    expect((await workbook.trials())[0]).toMatchObject({ athlete: name, file: name, reason: name });
    const said = new Set<string>();
    for (const cells of host.cells.values()) {
      for (const { formula } of cells.values()) {
        for (const { type, value } of tokenize(formula)) if (type === "func") said.add(value.toUpperCase());
      }
    }
    // No function came in with the name.
    expect([...said].filter((called) => /^(WEBSERVICE|HYPERLINK|SUM|LEAP\.VERSION)$/.test(called))).toEqual([]);
    expect([...said].filter((called) => called.startsWith("LEAP."))).toContain("LEAP.METRIC");
  });

  test.each(INJECTED)("%j in a file of the workbook comes back as text, not as a formula", async (name) => {
    const file: WorkbookFile = { names: [], sheets: [{ name: "A", cells: [{ row: 0, column: 0, value: name }, { row: 1, column: 0, value: 1 }], tables: [{ name: "T", range: { row: 0, column: 0, rows: 2, columns: 1 }, columns: [name] }] }] };
    for (const formulas of ["live", "values"] as const) {
      const bytes = await writeWorkbook(file, { formulas });
      const xml = [...unzip(bytes)].filter(([part]) => part.endsWith(".xml")).map(([, content]) => new TextDecoder().decode(content)).join("\n");
      expect(xml).not.toMatch(/<f[ >]|<img|<script/);
      const back = await readWorkbook(bytes, new Map());
      expect(back.sheets[0]!.cells[0]).toEqual({ row: 0, column: 0, value: name });
    }
  });

  test.each(INJECTED)("%j as the head of a column is the name of a column", (name) => {
    const head = `time\t${name.replaceAll(/[\t\n]/g, " ")}\tFz (N)`;
    const rows = Array.from({ length: 400 }, (_, i) => `${i / 1000}\t${i}\t${700 + (i % 7)}`);
    const recording = readRecording(new TextEncoder().encode([head, ...rows].join("\n")), `${name}.txt`);
    expect(recording.columns.map((column) => [column.name, column.unit].join(" ").trim()).join("|")).not.toBe("");
    expect(recording.trace().plates[0]!.force[0]).toBe(700);
  });
});

const whole = unzip(await writeXlsx({ sheets: [{ name: "A", rows: [["Time (s)", "Force (N)"], ...Array.from({ length: 400 }, (_, i) => [i / 1000, 700 + (i % 7)])] }] }));
const SHEET = "xl/worksheets/sheet1.xml";
const changed = (part: string, change: (text: string) => string): Uint8Array =>
  storedZip(new Map([...whole].map(([name, content]) => [name, name === part ? new TextEncoder().encode(change(new TextDecoder().decode(content))) : content])));
/** Thirty levels of ten: 10^30 laughs where an entity is opened. */
const LAUGHS = `<!DOCTYPE x [<!ENTITY a0 "ha">${Array.from({ length: 30 }, (_, i) => `<!ENTITY a${i + 1} "${`&a${i};`.repeat(10)}">`).join("")}]>`;
const OUTSIDE = '<!DOCTYPE x [<!ENTITY a30 SYSTEM "file:///etc/passwd">]>';
const many = (count: number, text: (n: number) => string): string => Array.from({ length: count }, (_, n) => text(n)).join("");
const inRows = (more: string) => (text: string) => text.replace("</sheetData>", `${more}</sheetData>`);

const HOSTILE: Readonly<Record<string, Uint8Array>> = {
  "entities of entities in a value": changed(SHEET, (text) => text.replace("<worksheet", `${LAUGHS}<worksheet`).replace("<v>700</v>", "<v>&a30;</v>")),
  "entities of entities in an address": changed(SHEET, (text) => text.replace("<worksheet", `${LAUGHS}<worksheet`).replace('r="A1"', 'r="&a30;"')),
  "entities of entities in the list of sheets": changed("xl/workbook.xml", (text) => text.replace("<workbook", `${LAUGHS}<workbook`).replace('name="A"', 'name="&a30;"')),
  "entities of entities in the texts": changed("xl/sharedStrings.xml", (text) => text.replace("<sst", `${LAUGHS}<sst`).replace("Time (s)", "&a30;")),
  "an entity that is another file": changed("xl/sharedStrings.xml", (text) => text.replace("<sst", `${OUTSIDE}<sst`).replace("Time (s)", "&a30;")),
  "elements nested 200,000 deep": changed(SHEET, (text) => text.replace("<sheetData", `${"<x>".repeat(200_000)}<sheetData`)),
  "elements nested 200,000 deep and closed": changed(SHEET, (text) => text.replace("<sheetData", `${"<x>".repeat(200_000)}${"</x>".repeat(200_000)}<sheetData`)),
  "an element with 100,000 attributes": changed(SHEET, (text) => text.replace("<sheetData", `<x ${many(100_000, (n) => `a${n}="" `)}/><sheetData`)),
  "a comment without an end": changed(SHEET, (text) => text.replace("<sheetData", `<!--${"-".repeat(2e6)}<sheetData`)),
  "two million signs of a beginning": changed(SHEET, (text) => text + "<".repeat(2e6)),
  "one cell in the last corner": changed(SHEET, inRows('<row r="1048576"><c r="XFD1048576"><v>1</v></c></row>')),
  "a cell at the right edge of 20,000 rows": changed(SHEET, inRows(many(20_000, (n) => `<row r="${n + 500}"><c r="XFD${n + 500}"><v>1</v></c></row>`))),
  "five million cells without addresses in one row": changed(SHEET, inRows(`<row r="1200">${"<c/>".repeat(5e6)}</row>`)),
  "a thousand times all columns": changed(SHEET, (text) => text.replace("<sheetData", `<cols>${'<col min="1" max="16384" width="9"/>'.repeat(1000)}</cols><sheetData`)),
  "a merge of everything": changed(SHEET, (text) => text.replace("</sheetData>", '</sheetData><mergeCells count="1"><mergeCell ref="A1:XFD1048576"/></mergeCells>')),
  "a formula of 100,000 brackets": changed(SHEET, (text) => text.replace("<v>700</v>", `<f>${"(".repeat(100_000)}1${")".repeat(100_000)}</f><v>700</v>`)),
  "a formula of 8,000 brackets": changed(SHEET, (text) => text.replace("<v>700</v>", `<f>${"(".repeat(4000)}1${")".repeat(4000)}</f><v>700</v>`)),
  "an array that fills everything": changed(SHEET, (text) => text.replace("<v>700</v>", '<f t="array" ref="A1:XFD1048576">1</f><v>700</v>')),
};

describe("hostile workbooks are read or refused with a sentence within two seconds", () => {
  let before = 0;
  beforeEach(() => {
    before = process.memoryUsage().rss;
  });

  test.each(Object.entries(HOSTILE))("%s", async (_what, bytes) => {
    const recording = await outcome(async () => (await openRecording(bytes, "x.xlsx")).trace());
    if (!(recording instanceof InputError)) expect(recording.plates[0]!.force.every((force) => force >= 0 && force < 1e6)).toBe(true);
    const workbook = await outcome(() => readWorkbook(bytes, new Map()));
    if (!(workbook instanceof InputError)) {
      expect(workbook.sheets).toHaveLength(1);
      // Neither the laughs nor the file were let in.
      expect(JSON.stringify(workbook.sheets[0]!.cells.slice(0, 3))).not.toMatch(/haha|root:/);
    }
    expect(process.memoryUsage().rss - before).toBeLessThan(700 * 2 ** 20);
  });
});

describe("hostile texts of our own forms", () => {
  test.each([100, 5000, 200_000])("a workbook file with %d lists in each other", (depth) => {
    const text = `{"format":"leapsheet-workbook","version":1,"savedAt":"","workbook":{"sheets":{"s":{"cellData":{"0":{"0":{"v":${"[".repeat(depth)}${"]".repeat(depth)}}}}}}},"texts":{}}`;
    const started = performance.now();
    let said = "";
    try {
      const read = readFileText(text);
      fromSaved(read.saved, read.texts);
    } catch (error) {
      said = (error as Error).message;
    }
    if (depth > 100) expect(said).toMatch(/nothing was changed$/);
    expect(said === "" || said.endsWith("nothing was changed")).toBe(true);
    expect(performance.now() - started).toBeLessThan(2000);
  });

  test.each([
    `{"format":"leapsheet-name-key","version":1,"people":{"a":${"[".repeat(100_000)}${"]".repeat(100_000)}},"files":{}}`,
    '{"format":"leapsheet-name-key","version":1,"people":{"__proto__":{"polluted":"1"}},"files":{}}',
    '{"format":"leapsheet-name-key","version":1,"people":{"P-AAAAA":{"toString":"x"}},"files":{}}',
  ])("a key to names that is none", (text) => {
    expect(() => namesAgain({ names: [], sheets: [{ name: "A", cells: [{ row: 0, column: 0, value: "P-AAAAA" }] }] }, readKeyText(text))).toThrow(/nothing was changed$/);
  });

  test("a key with names of the language's own puts only its codes back", () => {
    const file: WorkbookFile = { names: [], sheets: [{ name: "A", cells: ["constructor", "P-AAAAA"].map((value, row) => ({ row, column: 0, value })) }] };
    const key = readKeyText('{"format":"leapsheet-name-key","version":1,"people":{"P-AAAAA":"Ada Example"},"files":{}}');
    expect(namesAgain(file, key).sheets[0]!.cells.map(({ value }) => value)).toEqual(["constructor", "Ada Example"]);
  });

  test("a remembered recipe that was spoilt is left out, and reads nothing of the language's own", async () => {
    const host = new PeopleHost();
    for (const recipe of ['{"__proto__":{"rate":1}}', "[".repeat(50_000), "null", '"text"', '{"rate":1000}']) {
      await rememberRecipe(host, { name: `r${recipe.length}`, heads: "h", recipe: {}, pattern: "" });
      const table = (await host.tables()).find(({ name }) => name === "Recipes")!;
      host.setResult("Recipes", table.range.row + table.range.rows - 1, 2, recipe);
    }
    const recipes = await rememberedRecipes(host);
    expect(recipes.map(({ recipe }) => recipe)).toEqual([{}, { rate: 1000 }]);
    expect(recipes[0]!.recipe.rate).toBeUndefined();
  });

  /** A packed text whose checksum is right, so that what its head claims is looked at. */
  const packed = (facts: string, letters: string, part = ""): string => {
    const head = `LEAPF1 ${part}${facts}`;
    return `${head} crc=${crc32(letters, crc32(" ", crc32(head))).toString(16).padStart(8, "0")} ${letters}`;
  };

  test.each([
    ["more samples than letters", packed("rate=1000 plates=total samples=9999999 step=1 exact", "A".repeat(1000))],
    ["four plates of most samples", packed("rate=1000 plates=total,left,right,box samples=9999999 step=1 exact", "A".repeat(32_000))],
    ["a plate twice", packed("rate=1000 plates=left,left samples=10 step=1 exact", "A".repeat(40))],
    ["a plate of the language's own", packed("rate=1000 plates=constructor samples=10 step=1 exact", "A".repeat(40))],
    ["a rate beyond numbers", packed("rate=1e999 plates=total samples=10 step=1 exact", "A".repeat(40))],
    ["no rate", packed("rate=0 plates=total samples=10 step=1 exact", "A".repeat(40))],
    ["no step", packed("rate=1000 plates=total samples=10 step=0 exact", "A".repeat(40))],
    ["a step beyond every plate", packed("rate=1000 plates=total samples=10 step=1e-99 exact", "A".repeat(40))],
    ["a start beyond numbers", packed("rate=1000 plates=total samples=10 step=1 exact start=1e999", "A".repeat(40))],
    ["ones without end", packed("rate=1000 plates=total samples=200 step=1 exact", "/".repeat(40))],
    ["zeros without end", packed("rate=1000 plates=total samples=200 step=1 exact", "A".repeat(40))],
    ["a part that is nine of nine", packed("rate=1000 plates=total samples=10 step=1 exact", "A".repeat(40), "part=9/9 ")],
    ["letters that nothing needs", packed("rate=1000 plates=total samples=1 step=1 exact", "A".repeat(30_000))],
    ["a million spaces", `LEAPF1${" ".repeat(30_000)}`],
  ])("a packed text that claims %s is refused at once, and nothing is made room for", (_what, cell) => {
    const before = process.memoryUsage().arrayBuffers;
    const started = performance.now();
    expect(() => unpackTrace([cell])).toThrow(expect.objectContaining({ name: "InputError", code: expect.stringMatching(/^(damaged|not-recognised|too-large)$/) }));
    expect(performance.now() - started).toBeLessThan(500);
    expect(process.memoryUsage().arrayBuffers - before).toBeLessThan(5 * 2 ** 20);
  });

  test("the checksum of these claims is right: a head that holds what it claims is read", () => {
    // By hand: 32 bits of the first value, 70000 steps; then nothing, for one sample. 70000 = 0x11170.
    const value = "00000000000000010001000101110000";
    const letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    const text = [...value.padEnd(36, "0").matchAll(/.{6}/g)].map(([bits]) => letters[Number.parseInt(bits, 2)]).join("");
    const trace = unpackTrace([packed("rate=1000 plates=total samples=1 step=0.01 exact", text)]);
    expect("plates" in trace && trace.plates[0]!.force[0]).toBe(700);
  });
});
