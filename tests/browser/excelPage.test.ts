import { readFileSync } from "node:fs";
import { join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { serve } from "../../scripts/serve.js";
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

  test("gives Excel every function of functions.json, under its id", async () => {
    const { page } = await open(null, true);
    const ids = (JSON.parse(readFileSync(join(DIST, "functions.json"), "utf8")) as { functions: { id: string }[] }).functions.map(({ id }) => id);
    const associated = await page.evaluate(() => (window as unknown as { associated: string[] }).associated);
    expect([...associated].sort()).toEqual([...ids].sort());
    await page.close();
  });
});
