import { existsSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { chromium, type Browser, type BrowserContext, type Page } from "playwright-core";
import { findChromium } from "../../../scripts/ensure.js";
import { serve } from "../../../scripts/serve.js";
import { ROOT } from "../../../scripts/sources.js";
import type { SheetHost } from "../../../taskpane/host/SheetHost.ts";
import type { WorkbookModel } from "../../../taskpane/workbook/WorkbookModel.ts";

declare global {
  interface Window {
    leapsheet?: { readonly host: SheetHost; readonly workbook: WorkbookModel; readonly save: () => Promise<void>; readonly analysesMade: () => number };
  }
}

/** The built page; another folder can be named to test a build that stands elsewhere. */
export const DIST = process.env.LEAPSHEET_DIST ?? join(ROOT, "dist");

/** Without the background networking a browser of its own accord looks up its maker's hosts. */
const LAUNCH = [
  "--no-sandbox",
  "--disable-gpu",
  "--disable-quic",
  "--no-first-run",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
];

/** What the page did that it should not. */
export interface Faults {
  /** Errors and warnings of the console, uncaught exceptions, violations of the content security policy. */
  readonly console: string[];
  /** Requests to any other origin. */
  readonly foreign: string[];
}

export interface OpenPage {
  readonly page: Page;
  readonly context: BrowserContext;
  readonly url: string;
  readonly faults: Faults;
  /** Another tab of the same browser, watched for faults too. */
  newTab(options?: { ready?: boolean }): Promise<Page>;
  close(): Promise<void>;
}

/** A server of the built page and a browser, for one test file. */
export interface BrowserTests {
  readonly url: string;
  /** Opens the page in a browser profile of its own; resolves when the sheet can be used. */
  open(options?: { width?: number; height?: number; path?: string; ready?: boolean }): Promise<OpenPage>;
  close(): Promise<void>;
}

export async function startBrowserTests(): Promise<BrowserTests> {
  if (!existsSync(join(DIST, "embedded.html"))) throw new Error("the browser tests need the built page: run `npm run build` first");
  const server = await serve({ folder: DIST });
  const browser = await launchBrowser();
  return {
    url: server.url,
    async open({ width = 1280, height = 800, path = "", ready = true } = {}) {
      const context = await browser.newContext({ viewport: { width, height } });
      const faults: Faults = { console: [], foreign: [] };
      const opened = await openTab(context, server.url, path, faults, ready);
      return {
        page: opened,
        context,
        url: server.url,
        faults,
        newTab: ({ ready: waits = true } = {}) => openTab(context, server.url, path, faults, waits),
        close: () => context.close(),
      };
    },
    async close() {
      await browser.close();
      await server.close();
    },
  };
}

export function launchBrowser(): Promise<Browser> {
  return chromium.launch({ executablePath: chromiumPath(), args: LAUNCH });
}

/** A browser whose profile outlives it: for what must be found again after the browser was killed. */
export async function launchProfile(profile: string): Promise<{ context: BrowserContext; page: Page }> {
  const context = await chromium.launchPersistentContext(profile, { executablePath: chromiumPath(), args: LAUNCH, viewport: { width: 1280, height: 800 } });
  return { context, page: context.pages()[0] ?? (await context.newPage()) };
}

/** A folder for one profile, and its removal. */
export function temporaryProfile(): { folder: string; remove: () => void } {
  const folder = mkdtempSync(join(tmpdir(), "leapsheet-profile-"));
  return { folder, remove: () => rmSync(folder, { recursive: true, force: true, maxRetries: 5 }) };
}

function chromiumPath(): string {
  const path = findChromium();
  if (!path) throw new Error("the browser tests need a Chromium: install one, or name it in the CHROMIUM variable");
  return path;
}

async function openTab(context: BrowserContext, url: string, path: string, faults: Faults, ready: boolean): Promise<Page> {
  const page = await context.newPage();
  watch(page, url, faults);
  await page.goto(url + path);
  if (ready) await usable(page);
  return page;
}

/** Resolves when the sheet stands, its demo or workbook is in and nothing is left to compute. */
export async function usable(page: Page): Promise<void> {
  await page.waitForSelector("body[data-ready=yes]", { timeout: 60_000 });
}

export function watch(page: Page, url: string, faults: Faults): void {
  page.on("console", (message) => {
    if (message.type() === "error" || message.type() === "warning") faults.console.push(`${message.type()}: ${message.text()}`);
  });
  page.on("pageerror", (error) => faults.console.push(`uncaught: ${error.stack ?? error.message}`));
  page.on("request", (request) => {
    const address = request.url();
    if (!address.startsWith(url) && !/^(data|blob):/.test(address)) faults.foreign.push(address);
  });
  void page.addInitScript(() => {
    // Only what the page's own files do: the test driver itself evaluates code in the page.
    document.addEventListener("securitypolicyviolation", (event) => {
      if (event.blockedURI !== "eval" || event.sourceFile.startsWith(location.origin)) console.error(`policy violated: ${event.violatedDirective} by ${event.blockedURI} in ${event.sourceFile}:${event.lineNumber}`);
    });
  });
}
