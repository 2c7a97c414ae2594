import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { copyOffice, officeScript, OFFICIAL_SCRIPT } from "../../scripts/officeScript.js";
import { excelPages } from "../support/excelPages.ts";

let folder = "";
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "leapsheet-office-js-"));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

/** What the policy in a page allows, by kind. */
function policyOf(html: string): Record<string, string[]> {
  const text = /<meta http-equiv="Content-Security-Policy" content="([^"]+)">/.exec(html)?.[1] ?? "";
  return Object.fromEntries(text.split("; ").map((line) => [line.split(" ")[0], line.split(" ").slice(1)]));
}

/** Addresses of the scripts of a page, in order. */
const scriptsOf = (html: string): string[] => [...html.matchAll(/<script[^>]* src="([^"]+)"/g)].map((match) => match[1]!);

describe("the page for Excel, as it is built", () => {
  test("by default loads Office.js from Microsoft's address, first of all scripts, and its policy allows that and what Office.js asks for", async () => {
    const html = await excelPages(folder);
    expect(scriptsOf(html)).toEqual([OFFICIAL_SCRIPT, "functions.js", "taskpane.js"]);
    expect(policyOf(html)).toMatchObject({
      "default-src": ["'none'"],
      "script-src": ["'self'", "https://appsforoffice.microsoft.com"],
      "connect-src": ["'self'"],
    });
    expect(policyOf(html)).not.toHaveProperty("frame-src");
    expect(html).not.toMatch(/unsafe-eval|<%|<script>/);
  });

  test.each([
    ["https://files.example.org/office", "https://files.example.org/office/office.js", "https://files.example.org/office/"],
    ["https://files.example.org/office/", "https://files.example.org/office/office.js", "https://files.example.org/office/"],
    ["https://files.example.org/lib/office.js", "https://files.example.org/lib/office.js", "https://files.example.org/lib/"],
  ])("for %s loads it from there, and nothing but that folder is allowed besides its own origin", async (where, src, allowed) => {
    const html = await excelPages(folder, where);
    expect(scriptsOf(html)[0]).toBe(src);
    expect(policyOf(html)["script-src"]).toEqual(["'self'", allowed]);
    expect(policyOf(html)).not.toHaveProperty("frame-src");
    expect(html).not.toMatch(/microsoft|aspnetcdn|oaspapps/);
  });

  test("for a folder loads a copy of its own, and no other origin is allowed at all", async () => {
    const office = join(folder, "office");
    mkdirSync(office);
    writeFileSync(join(office, "office.js"), "");
    const html = await excelPages(folder, office);
    expect(scriptsOf(html)[0]).toBe("office-js/office.js");
    expect(policyOf(html)["script-src"]).toEqual(["'self'"]);
    expect(html.replace(/<meta[^>]*viewport[^>]*>/, "")).not.toMatch(/https?:/);
  });
});

describe("officeScript", () => {
  test("allows no more than Excel's parts of Office.js ask for: what else they name is asked for below the supported versions only", () => {
    const dist = dirname(createRequire(import.meta.url).resolve("@microsoft/office-js/dist/office.js"));
    // The parts that Excel on the web, on Mac and from 2019 on Windows load; 16.00 is Excel 2016 on Windows.
    const parts = ["office.debug.js", "excel-web-16.00.debug.js", "excel-win32-16.01.debug.js", "excel-mac-16.00.debug.js"].map((name) => readFileSync(join(dist, name), "utf8"));
    for (const text of parts) {
      expect(text).not.toMatch(/oaspapps|\.loadMsAjaxFull\(/);
      expect(text).not.toMatch(/requiresMsAjax = true/);
    }
    expect(readFileSync(join(dist, "excel-win32-16.00.debug.js"), "utf8")).toMatch(/\.loadMsAjaxFull\(/);
  });

  test.each([
    ["http://files.example.org/office", "over https only"],
    ["ftp://files.example.org/office", "over https only"],
    ["https://files.example.org/office?v=1", "without ?"],
    ["https://files.example.org/a;script-src *", "without ?"],
    ["/no/such/folder", "holds office.js"],
  ])("refuses %s", (where, message) => {
    expect(() => officeScript(where)).toThrow(message);
  });
});

describe("copyOffice", () => {
  const dist = dirname(createRequire(import.meta.url).resolve("@microsoft/office-js/dist/office.js"));

  test("copies what a page inside Excel asks for, unchanged, with the licence and without the parts of other programs", () => {
    const count = copyOffice({ outDir: folder, folder: dist });
    const copied = (name: string) => join(folder, "office-js", name);
    // The files that Office.js asks for in each host of Excel, as its own list names them (excel-web-16.00.js and so on), and a text in two languages.
    for (const name of ["office.js", "excel-web-16.00.js", "excel-win32-16.01.js", "excel-mac-16.00.js", "custom-functions-runtime.js", "en-us/office_strings.js", "de-de/office_strings.js"]) {
      expect(readFileSync(copied(name)).equals(readFileSync(join(dist, name))), name).toBe(true);
    }
    for (const name of ["office.debug.js", "excel-web-16.00.debug.js", "outlook-web-16.01.js", "office.d.ts", "en-us/outlook_strings.js"]) expect(existsSync(copied(name)), name).toBe(false);
    expect(readFileSync(copied("LICENSE.md"), "utf8")).toContain("MICROSOFT SOFTWARE LICENSE TERMS");
    expect(count).toBeGreaterThan(100);
  });

  test("takes an earlier copy away where Office.js comes from elsewhere", () => {
    copyOffice({ outDir: folder, folder: dist });
    expect(copyOffice({ outDir: folder })).toBe(0);
    expect(existsSync(join(folder, "office-js"))).toBe(false);
  });
});
