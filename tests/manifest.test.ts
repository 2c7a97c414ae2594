import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { DOMParser, type Document, type Element } from "@xmldom/xmldom";
import { describe, expect, test } from "vitest";
import { ICON_SIZES, iconPng } from "../scripts/icons.js";
import { manifestFor } from "../scripts/manifest.js";

const ROOT = join(import.meta.dirname, "..");
const XSI = "http://www.w3.org/2001/XMLSchema-instance";
const text = readFileSync(join(ROOT, "manifest.xml"), "utf8");

function parse(source: string): Document {
  return new DOMParser({
    onError: (level, message) => {
      throw new Error(`${level}: ${message}`);
    },
  }).parseFromString(source, "text/xml");
}

const children = (element: Element): Element[] => Array.from(element.childNodes).filter((node) => node.nodeType === 1) as Element[];
const names = (element: Element): string[] => children(element).map((child) => child.localName as string);
const root = parse(text).documentElement as Element;

/** The descendant along a path of element names; each step takes the first of its name. */
function at(path: string, from: Element = root): Element {
  return path.split("/").reduce((element, name) => {
    const found = children(element).find((child) => child.localName === name);
    if (found === undefined) throw new Error(`no ${name} under ${element.localName}`);
    return found;
  }, from);
}

function all(name: string, from: Element = root): Element[] {
  return Array.from(from.getElementsByTagNameNS("*", name)) as Element[];
}

/** `resid` of every element that has one, with the element. */
const residUses = all("*").filter((element) => element.hasAttribute("resid"));
const resources = children(at("VersionOverrides/Resources"));
const definitions = resources.flatMap((group) => children(group).map((element) => ({ group: group.localName as string, id: element.getAttribute("id") as string, value: element.getAttribute("DefaultValue") as string })));

// Orders, lengths and kinds below: Microsoft's schema of the add-in manifest 1.1 and of its version overrides 1.0.
describe("manifest.xml", () => {
  test("is an add-in with a pane for workbooks", () => {
    expect(root.localName).toBe("OfficeApp");
    expect(root.namespaceURI).toBe("http://schemas.microsoft.com/office/appforoffice/1.1");
    expect(root.getAttributeNS(XSI, "type")).toBe("TaskPaneApp");
    expect(at("VersionOverrides").namespaceURI).toBe("http://schemas.microsoft.com/office/taskpaneappversionoverrides");
    expect(at("VersionOverrides").getAttributeNS(XSI, "type")).toBe("VersionOverridesV1_0");
    expect(at("Hosts/Host").getAttribute("Name")).toBe("Workbook");
    expect(at("Permissions").textContent).toBe("ReadWriteDocument");
  });

  test("has its elements in the order of the schema", () => {
    expect(names(root)).toEqual(["Id", "Version", "ProviderName", "DefaultLocale", "DisplayName", "Description", "IconUrl", "HighResolutionIconUrl", "SupportUrl", "Hosts", "Requirements", "DefaultSettings", "Permissions", "VersionOverrides"]);
    expect(names(at("VersionOverrides"))).toEqual(["Hosts", "Resources"]);
    expect(names(at("VersionOverrides/Hosts/Host"))).toEqual(["Runtimes", "AllFormFactors", "DesktopFormFactor"]);
    expect(names(at("VersionOverrides/Hosts/Host/AllFormFactors/ExtensionPoint"))).toEqual(["Script", "Page", "Metadata", "Namespace"]);
    expect(names(at("VersionOverrides/Hosts/Host/DesktopFormFactor"))).toEqual(["GetStarted", "ExtensionPoint"]);
    expect(names(all("GetStarted")[0])).toEqual(["Title", "Description", "LearnMoreUrl"]);
    expect(names(all("Group")[0])).toEqual(["Label", "Icon", "Control"]);
    expect(names(all("Control")[0])).toEqual(["Label", "Supertip", "Icon", "Action"]);
    expect(names(at("VersionOverrides/Resources"))).toEqual(["Images", "Urls", "ShortStrings", "LongStrings"]);
  });

  test("has a GUID, a version of four numbers and texts within their lengths", () => {
    expect(at("Id").textContent).toMatch(/^[0-9a-f]{8}-[0-9a-f]{4}-[1-5][0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/);
    expect(at("Version").textContent).toMatch(/^\d{1,5}(\.\d{1,5}){3}$/);
    const { version } = JSON.parse(readFileSync(join(ROOT, "package.json"), "utf8")) as { version: string };
    expect(at("Version").textContent).toBe(`${version}.0`);
    expect(at("ProviderName").textContent?.length).toBeLessThanOrEqual(125);
    expect(at("DisplayName").getAttribute("DefaultValue")?.length).toBeLessThanOrEqual(125);
    expect(at("Description").getAttribute("DefaultValue")?.length).toBeLessThanOrEqual(250);
    for (const { group, id, value } of definitions) {
      expect(id.length, id).toBeLessThanOrEqual(32);
      if (group === "ShortStrings") expect(value.length, id).toBeLessThanOrEqual(125);
      if (group === "LongStrings") expect(value.length, id).toBeLessThanOrEqual(250);
    }
  });

  test("asks for the requirement sets of the declared floor and no others", () => {
    const sets = children(at("Requirements/Sets")).map((set) => `${set.getAttribute("Name")} ${set.getAttribute("MinVersion")}`);
    expect(sets).toEqual(["SharedRuntime 1.1", "CustomFunctionsRuntime 1.3", "ExcelApi 1.14"]);
  });

  test("names https addresses only", () => {
    const addresses = [...text.matchAll(/DefaultValue="([a-z]+:\/\/[^"]*)"/g)].map((match) => match[1]);
    expect(addresses.length).toBeGreaterThanOrEqual(10);
    for (const address of addresses) expect(address).toMatch(/^https:\/\//);
  });

  test("points at documentation pages that are made from a page of docs", () => {
    const pages = [...text.matchAll(/localhost:3000\/docs\/([\w/-]+)\.html/g)].map((match) => match[1]);
    expect(pages.length).toBeGreaterThan(0);
    for (const page of pages) expect(existsSync(join(ROOT, "docs", `${page}.md`)), page).toBe(true);
  });

  test("defines every resource once, uses each, and of the right kind", () => {
    const ids = definitions.map((definition) => definition.id);
    expect(new Set(ids).size).toBe(ids.length);
    const used = new Set(residUses.map((element) => element.getAttribute("resid") as string));
    expect([...used].sort()).toEqual([...ids].sort());
    const kinds: Record<string, string> = { Image: "Images", SourceLocation: "Urls", Runtime: "Urls", LearnMoreUrl: "Urls", FunctionFile: "Urls", Title: "ShortStrings", Label: "ShortStrings", Namespace: "ShortStrings", Description: "LongStrings" };
    for (const element of residUses) {
      const definition = definitions.find(({ id }) => id === element.getAttribute("resid"));
      expect(definition?.group, `${element.localName} ${definition?.id}`).toBe(kinds[element.localName as string]);
    }
  });

  test("runs functions and pane in one long-lived runtime of one page", () => {
    const runtime = at("VersionOverrides/Hosts/Host/Runtimes/Runtime");
    expect(runtime.getAttribute("lifetime")).toBe("long");
    const page = runtime.getAttribute("resid");
    expect(at("VersionOverrides/Hosts/Host/AllFormFactors/ExtensionPoint/Page/SourceLocation").getAttribute("resid")).toBe(page);
    expect(at("SourceLocation", all("Action")[0]).getAttribute("resid")).toBe(page);
    // A pane of a shared runtime has no TaskpaneId.
    expect(all("TaskpaneId")).toHaveLength(0);
    expect(at("DefaultSettings/SourceLocation").getAttribute("DefaultValue")).toBe(definitions.find(({ id }) => id === page)?.value);
  });

  test("puts the functions under the namespace LEAP", () => {
    const namespace = at("VersionOverrides/Hosts/Host/AllFormFactors/ExtensionPoint/Namespace").getAttribute("resid");
    expect(definitions.find(({ id }) => id === namespace)?.value).toBe("LEAP");
  });

  test("has ids that are not used twice and icons of 16, 32 and 80 pixels on group and button", () => {
    const ids = [...all("Group"), ...all("Control")].map((element) => element.getAttribute("id"));
    expect(new Set(ids).size).toBe(ids.length);
    const icons = all("Icon");
    expect(icons).toHaveLength(2);
    for (const icon of icons) expect(children(icon).map((image) => image.getAttribute("size"))).toEqual(["16", "32", "80"]);
  });

  test("points at icons that exist, are square and have the size their name says", () => {
    const files = [...text.matchAll(/\/assets\/(icon-(\d+)\.png)/g)];
    expect(new Set(files.map((match) => Number(match[2])))).toEqual(new Set(ICON_SIZES));
    for (const [, name, size] of files) {
      const path = join(ROOT, "taskpane", "assets", name);
      expect(existsSync(path), name).toBe(true);
      const bytes = readFileSync(path);
      // Width and height stand in bytes 16 to 23 of a PNG file (PNG specification, IHDR).
      expect([bytes.toString("latin1", 1, 4), bytes.readUInt32BE(16), bytes.readUInt32BE(20)]).toEqual(["PNG", Number(size), Number(size)]);
      expect(bytes.equals(iconPng(Number(size))), `${name} is what scripts/icons.js draws`).toBe(true);
    }
  });
});

describe("manifestFor", () => {
  test("replaces every address and nothing else", () => {
    const built = manifestFor("https://example.org/jump tests/leap/");
    expect(built).not.toContain("localhost");
    expect(built.replaceAll("https://example.org/jump%20tests/leap", "https://localhost:3000")).toBe(text);
    parse(built);
  });

  test("writes an address with & so that the file stays XML", () => {
    const url = (parse(manifestFor("https://example.org/a&b")).documentElement as Element).getElementsByTagNameNS("*", "IconUrl")[0];
    expect(url.getAttribute("DefaultValue")).toBe("https://example.org/a&b/assets/icon-32.png");
  });

  test.each(["http://example.org", "ftp://example.org", "not an address", "https://example.org/?a=1"])("refuses %s", (url) => {
    expect(() => manifestFor(url)).toThrow();
  });
});
