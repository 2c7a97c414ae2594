import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { PERMISSIVE } from "../../scripts/licences.js";
import { ROOT } from "../../scripts/sources.js";

const { dependencies, devDependencies, scripts } = JSON.parse(readFileSync(join(ROOT, "package.json"), "utf8")) as Record<string, Record<string, string>>;

/** Rows of the table below a heading of DEVELOPERS.md. */
function rowsUnder(heading: string): { name: string; licence: string; why: string }[] {
  const text = readFileSync(join(ROOT, "DEVELOPERS.md"), "utf8");
  const from = text.indexOf(`### ${heading}\n`);
  expect(from, heading).toBeGreaterThan(0);
  const section = text.slice(from).split(/\n##+ /)[0]!;
  return [...section.matchAll(/^\| `([^`]+)` \| (.+?) \| (.+) \|$/gm)].map(([, name, licence, why]) => ({ name: name!, licence: licence!, why: why! }));
}

describe("the dependencies that DEVELOPERS.md justifies", () => {
  test.each([
    ["In what is handed out", dependencies],
    ["For development only", devDependencies],
  ])("%s: are those of package.json, each once and with a reason", (heading, declared) => {
    const rows = rowsUnder(heading);
    expect(rows.map(({ name }) => name)).toEqual(Object.keys(declared!).sort());
    for (const { name, why } of rows) expect(why.length, name).toBeGreaterThanOrEqual(10);
  });

  test("have the licence that their packages name", () => {
    for (const { name, licence } of [...rowsUnder("In what is handed out"), ...rowsUnder("For development only")]) {
      const { license } = JSON.parse(readFileSync(join(ROOT, "node_modules", name, "package.json"), "utf8")) as { license: string };
      expect(licence, name).toBe(license === "LICENSE" ? "Microsoft's terms" : license);
    }
  });

  test("have permissive licences where they are handed out; of the others, two do not, and stay out of the build", () => {
    const others = (heading: string) => rowsUnder(heading).filter(({ licence }) => !PERMISSIVE.includes(licence)).map(({ name }) => name);
    expect(others("In what is handed out")).toEqual([]);
    expect(others("For development only")).toEqual(["@microsoft/office-js", "axe-core"]);
  });

  test("can be looked up in the registry's list of known faults, by a command of its own that no test runs", () => {
    expect(scripts!.audit).toBe("npm audit --omit=dev");
    expect(Object.entries(scripts!).filter(([name, command]) => name !== "audit" && /\baudit\b/.test(command))).toEqual([]);
  });
});
