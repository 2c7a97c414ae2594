import { copyFileSync, mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { copyOffice } from "../../scripts/officeScript.js";
import { serve } from "../../scripts/serve.js";
import { excelPages } from "../support/excelPages.ts";
import { DIST, launchBrowser } from "./support/page.ts";

const OFFICE = "https://appsforoffice.microsoft.com/lib/1/hosted/office.js";

/** Stands in for Microsoft's script, of which the page needs this much before it is inside Excel. */
const office = (host: string | null, supported: boolean) => `
  window.associated = [];
  window.CustomFunctions = { associate: (id) => window.associated.push(id) };
  window.Office = {
    HostType: { Excel: "Excel" },
    context: { requirements: { isSetSupported: () => ${supported} } },
    onReady: (then) => document.readyState === "complete" ? then({ host: ${JSON.stringify(host)} }) : addEventListener("load", () => then({ host: ${JSON.stringify(host)} })),
  };`;

describe("the page for Excel", () => {
  let browser: Browser;
  let server: Awaited<ReturnType<typeof serve>>;
  beforeAll(async () => {
    server = await serve({ folder: DIST });
    browser = await launchBrowser();
  });
  afterAll(async () => {
    await browser?.close();
    await server?.close();
  });

  const open = async (host: string | null, supported: boolean): Promise<{ page: Page; requests: string[]; errors: string[] }> => {
    const page = await browser.newPage();
    const requests: string[] = [];
    const errors: string[] = [];
    page.on("request", (request) => requests.push(request.url()));
    page.on("pageerror", (error) => errors.push(error.message));
    page.on("console", (message) => message.type() === "error" && errors.push(message.text()));
    await page.route(OFFICE, (route) => route.fulfill({ contentType: "text/javascript", body: office(host, supported) }));
    await page.goto(`${server.url}taskpane.html`);
    return { page, requests, errors };
  };

  test("outside Excel says where it belongs, and asks nobody but Microsoft's own script for anything", async () => {
    const { page, requests, errors } = await open(null, true);
    await page.getByText("opens inside Excel").waitFor();
    expect(requests.filter((url) => !url.startsWith(server.url))).toEqual([OFFICE]);
    expect(errors).toEqual([]);
    await page.close();
  });

  test("in an Excel that lacks what it needs names the lack", async () => {
    const { page } = await open("Excel", false);
    await page.getByText("This Excel lacks SharedRuntime 1.1").waitFor();
    await page.close();
  });

  test("has a policy that lets in its own scripts and Office.js, and neither eval nor a script in the page", async () => {
    const { page, errors } = await open(null, true);
    const policy = (await page.locator('meta[http-equiv="Content-Security-Policy"]').getAttribute("content"))!;
    const parts = new Map(policy.split(";").map((part) => part.trim().split(/\s+/)).map(([name, ...sources]) => [name!, sources]));
    expect(parts.get("default-src")).toEqual(["'none'"]);
    expect(parts.get("connect-src")).toEqual(["'self'"]);
    // Both of Microsoft: where Office.js is, and where it loads what it stands on.
    for (const source of parts.get("script-src")!) expect(["'self'", "https://appsforoffice.microsoft.com", "https://ajax.aspnetcdn.com"]).toContain(source);
    expect(policy.replace(/style-src[^;]*/, "")).not.toMatch(/unsafe|\*|data:.*script/);
    // In force, not only written: a script in the page and code from text stop at it, and a request elsewhere is not sent.
    const tried = await page.evaluate(async () => {
      const script = document.createElement("script");
      script.textContent = "document.body.dataset.inline = 'ran'; try { document.body.dataset.evaluated = eval('1 + 1') } catch {}";
      document.head.append(script);
      return { inline: document.body.dataset.inline, elsewhere: await fetch("https://example.org/").then(() => "sent", () => "not sent") };
    });
    expect(tried).toEqual({ inline: undefined, elsewhere: "not sent" });
    expect(errors.filter((text) => /script-src|Refused to execute|violates/.test(text)).length).toBeGreaterThan(0);
    await page.close();
  });

  test("is built with a list of the packages it is made of, for people and for machines, each with its licence", () => {
    const { components } = JSON.parse(readFileSync(join(DIST, "bom.json"), "utf8")) as { components: { name: string; version: string; licenses: { license: { id?: string } }[] }[] };
    const text = readFileSync(join(DIST, "third-party-licenses.txt"), "utf8");
    expect(components.map(({ name }) => name)).toEqual(expect.arrayContaining(["react", "@univerjs/core", "@borgar/fx", "uplot"]));
    for (const { name, version, licenses } of components) {
      expect(licenses[0]?.license.id, name).toMatch(/^[\w.-]+$/);
      expect(text).toContain(`${name} ${version}: ${licenses[0]!.license.id}`);
    }
  });

  test("gives Excel every function of functions.json, under its id", async () => {
    const { page } = await open(null, true);
    const ids = (JSON.parse(readFileSync(join(DIST, "functions.json"), "utf8")) as { functions: { id: string }[] }).functions.map(({ id }) => id);
    const associated = await page.evaluate(() => (window as unknown as { associated: string[] }).associated);
    expect([...associated].sort()).toEqual([...ids].sort());
    await page.close();
  });

  test("with an organisation's own copy of Office.js asks no other origin for anything, and its policy stops nothing that Office.js does there", async () => {
    const folder = mkdtempSync(join(tmpdir(), "leapsheet-own-office-"));
    const dist = dirname(createRequire(import.meta.url).resolve("@microsoft/office-js/dist/office.js"));
    try {
      await excelPages(folder, dist);
      for (const name of readdirSync(DIST)) if (/\.(js|css)$/.test(name)) copyFileSync(join(DIST, name), join(folder, name));
      copyOffice({ outDir: folder, folder: dist });
      const own = await serve({ folder });
      const page = await browser.newPage();
      const [requests, faults]: [string[], string[]] = [[], []];
      page.on("request", (request) => requests.push(request.url()));
      page.on("pageerror", (error) => faults.push(error.message));
      page.on("console", (message) => /policy/i.test(message.text()) && faults.push(message.text()));
      await page.goto(`${own.url}taskpane.html`);
      // Microsoft's script says that there is no Excel around it, and the page says what it is for.
      await page.getByText("opens inside Excel").waitFor();
      expect(requests).toContain(`${own.url}office-js/office.js`);
      expect(requests.filter((url) => !url.startsWith(own.url))).toEqual([]);
      expect(faults).toEqual([]);
      await page.close();
      await own.close();
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  }, 60_000);
});
