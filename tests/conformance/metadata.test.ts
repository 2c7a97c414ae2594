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
      expect(name, "reads as a cell address").not.toMatch(/^[A-Z]{1,3}\d+$/);
      expect(name, "reads as a cell address").not.toMatch(/^R\d*C\d*$/);
    }
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
