import * as engine from "@univerjs/engine-formula";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { FUNCTIONS } from "../../functions/index.ts";
import { functionsMetadata } from "../../scripts/metadata.js";

interface Metadata {
  readonly functions: readonly {
    readonly id: string;
    readonly name: string;
    readonly description: string;
    readonly helpUrl: string;
    readonly options: Readonly<Record<string, unknown>>;
    readonly parameters: readonly { readonly name: string; readonly description: string; readonly type?: string; readonly optional?: boolean; readonly repeating?: boolean; readonly dimensionality?: string }[];
    readonly result: Readonly<Record<string, unknown>>;
  }[];
}

/** Names of the functions that spreadsheets have themselves, from an open-source engine (Apache-2.0). */
const BUILT_IN: ReadonlySet<string> = new Set(
  Object.entries(engine as unknown as Record<string, Record<string, string>>)
    .filter(([list]) => list.startsWith("FUNCTION_NAMES_") && list !== "FUNCTION_NAMES_UNIVER")
    .flatMap(([, names]) => Object.values(names)),
);

/** Whether a name without a prefix would be read as a cell, a row or a column. */
function readsAsAddress(name: string): boolean {
  return /^[A-Z]{1,3}\d+$/.test(name) || /^[RZLFWK]\d*[CSKW]\d*$/.test(name);
}

const metadata = (await functionsMetadata({ url: "https://example.org/leap" })) as Metadata & Record<string, unknown>;
const { functions } = metadata;

describe("functions.json", () => {
  test("has exactly one of the two flags for what reaches a parameter of any type", () => {
    // The pair of them crashes Excel LTSC 2021 (office-js issue 4385).
    expect(Object.keys(metadata).filter((key) => key.startsWith("allow"))).toEqual(["allowErrorForDataTypeAny"]);
    expect(metadata.allowErrorForDataTypeAny).toBe(true);
  });

  test("has the ids that workbooks hold: one is only ever added, with a line in docs/changes.md", () => {
    const ids = JSON.parse(readFileSync(join(import.meta.dirname, "functionIds.json"), "utf8")) as string[];
    expect(functions.map(({ id }) => id)).toEqual(ids);
  });

  test("lists the functions of the table, with as many parameters as each declares", () => {
    expect(functions.map(({ id }) => id)).toEqual([...FUNCTIONS.keys()].sort());
    expect(new Set(functions.map(({ id }) => id)).size).toBe(functions.length);
  });

  test("has names that Excel takes", () => {
    for (const { id, name } of functions) {
      expect(name).toBe(id);
      expect(name).toMatch(/^[A-Z][A-Z0-9_]{2,}$/);
      expect(`LEAP.${name}`.length).toBeLessThanOrEqual(128);
      expect(readsAsAddress(name), `${name} reads as a cell address`).toBe(false);
    }
  });

  // The prefix tells our functions from all others, yet a name that is none of theirs is read without a doubt by people too.
  test("has no name of a function that spreadsheets have themselves", () => {
    expect(BUILT_IN.size).toBeGreaterThan(500);
    // The list has what Excel added last as well as what it has always had (release notes of Excel; ECMA-376).
    for (const name of ["SUM", "T.TEST", "XLOOKUP", "LAMBDA", "RANK"]) expect(BUILT_IN).toContain(name);
    expect(functions.filter(({ name }) => BUILT_IN.has(name) || BUILT_IN.has(name.replaceAll("_", ".")) || BUILT_IN.has(`LEAP.${name}`)).map(({ name }) => name)).toEqual([]);
  });

  // By hand from Excel's documentation: A1 up to XFD1048576; rows and columns as R1C1, and as Z1S1, L1C1, F1C1 and so on in other languages.
  test.each([
    ["A1", true], ["XFD1048576", true], ["FT50", true], ["R1C1", true], ["RC", true], ["R12", true], ["C3", true], ["Z1S1", true], ["L1C1", true], ["F2C2", true], ["RC_1", false], ["METRIC", false], ["T_SCORE", false], ["HEIGHT_FLIGHT", false],
  ])("tells that %s reads as a cell address: %s", (name, expected) => {
    expect(readsAsAddress(name)).toBe(expected);
  });

  test("describes every function and parameter in a sentence that fits Excel's window", () => {
    for (const { id, description, parameters } of functions) {
      expect(description, id).toMatch(/^[A-Z"].{15,}\.$/);
      expect(description.length, `${id}: ${description.length} characters`).toBeLessThanOrEqual(255);
      for (const parameter of parameters) {
        expect(parameter.description, `${id} ${parameter.name}`).toMatch(/\S.{3,}\.$/);
        expect(parameter.description.length, `${id} ${parameter.name}`).toBeLessThanOrEqual(255);
        expect(parameter.name).toMatch(/^[a-zA-Z]\w*$/);
      }
    }
  });

  test("has optional parameters only after the others, and no repeating ones", () => {
    for (const { id, parameters } of functions) {
      const optional = parameters.map((parameter) => parameter.optional === true);
      expect(optional, id).toEqual([...optional].sort());
      expect(parameters.some((parameter) => parameter.repeating), id).toBe(false);
    }
  });

  test("takes any value everywhere, so that no argument fails before the function can say why", () => {
    for (const { id, parameters } of functions) {
      for (const parameter of parameters) expect(parameter.type, `${id} ${parameter.name}`).toBe("any");
    }
  });

  test("puts settings, adjust and rate last and in this order wherever a trace is read", () => {
    for (const { id, parameters } of functions) {
      const names = parameters.map(({ name }) => name);
      const tail = ["settings", "adjust", "rate"].filter((name) => names.includes(name));
      if (!names.includes("trace") || tail.length === 0) continue;
      expect(names.slice(names.indexOf(tail[0])).filter((name) => tail.includes(name)), id).toEqual(tail);
    }
  });

  test("gives every call its cell and every function its page", () => {
    for (const { id, helpUrl, options } of functions) {
      expect(options.requiresAddress, id).toBe(true);
      expect(helpUrl).toBe(`https://example.org/leap/docs/reference/functions.html#${id.toLowerCase()}`);
    }
  });

  test("is far below the size that Excel on Windows refuses", () => {
    expect(JSON.stringify(metadata).length).toBeLessThan(500_000);
  });
});
