import { readFileSync } from "node:fs";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { startBrowserTests, usable, type BrowserTests, type OpenPage } from "./support/page.ts";

/** Ways in which a browser keeps nothing: what the page meets is what the browser would throw. */
const REFUSALS: Readonly<Record<string, () => void>> = {
  "throws where storage is opened": () => {
    IDBFactory.prototype.open = () => {
      throw new DOMException("The operation is insecure.", "SecurityError");
    };
  },
  "has no storage": () => {
    Object.defineProperty(window, "indexedDB", { value: undefined });
  },
  "opens storage and fails": () => {
    const open = IDBFactory.prototype.open;
    IDBFactory.prototype.open = function (this: IDBFactory, name: string) {
      const request = open.call(this, `${name}-none`, 1);
      setTimeout(() => request.dispatchEvent(new Event("error")));
      Object.defineProperty(request, "error", { value: new DOMException("A mutation operation was attempted on a database that did not allow mutations.", "InvalidStateError") });
      Object.defineProperty(request, "onsuccess", { set: () => undefined });
      Object.defineProperty(request, "onupgradeneeded", { set: () => undefined });
      return request;
    };
  },
};

describe("a browser that", () => {
  let tests: BrowserTests;
  beforeAll(async () => {
    tests = await startBrowserTests();
  });
  afterAll(() => tests?.close());

  test.each(Object.entries(REFUSALS))("%s: the page works, says that nothing is kept, and gives a file to download", async (_what, refuse) => {
    const open: OpenPage = await tests.open();
    try {
      await open.context.addInitScript(refuse);
      await open.page.reload();
      await usable(open.page);
      const said = open.page.locator("#storage");
      await said.waitFor({ timeout: 10_000 });
      expect(await said.textContent()).toContain("does not let the page store anything, so the workbook is lost when the page closes");
      expect(await open.page.locator("#save-state").textContent()).toBe("Not saved");
      await open.page.evaluate(async () => {
        const { host } = window.leapsheet!;
        await host.apply([{ kind: "addSheet", sheet: "Mine" }, { kind: "cells", sheet: "Mine", row: 0, column: 0, cells: [["not kept", { formula: "=LEAP.HEIGHT_FLIGHT(0.5)" }]] }], { label: "Note" });
        await host.settled();
      });
      const [download] = await Promise.all([open.page.waitForEvent("download"), said.getByRole("button", { name: "Download a copy" }).click()]);
      const file = readFileSync(await download.path(), "utf8");
      expect(file).toContain("not kept");
      expect(file).toContain("LEAP.HEIGHT_FLIGHT(0.5)");
    } finally {
      await open.close();
    }
  });
});
