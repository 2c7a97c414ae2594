import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { SETTINGS } from "../../../src/settings/definitions.ts";

/** Sources that may act on a setting: everything but where settings are defined and put into words. */
function sources(folder: string): string[] {
  return readdirSync(folder, { withFileTypes: true, recursive: true })
    .filter((entry) => entry.isFile() && /\.tsx?$/.test(entry.name))
    .map((entry) => join(entry.parentPath, entry.name))
    .filter((path) => !/^src\/(settings|wording)\//.test(path));
}

describe("every setting", () => {
  const text = ["src", "functions", "taskpane", "command"].flatMap(sources).map((path) => readFileSync(path, "utf8")).join("\n");

  test.each(SETTINGS.map(({ id }) => id))("%s is read by something", (id) => {
    expect(text.includes(`"${id}"`)).toBe(true);
  });
});
