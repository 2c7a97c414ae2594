import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe } from "vitest";

/** Folder of recordings and vectors kept beside the project, from the environment. */
const folder = process.env.LEAPSHEET_DATA;

/** Whether the data folder was given and exists. */
export const hasData = folder !== undefined && existsSync(folder);

/** Bytes of a file in the data folder. */
export function dataBytes(path: string): Uint8Array {
  if (folder === undefined) throw new Error("LEAPSHEET_DATA is not set");
  return new Uint8Array(readFileSync(join(folder, path)));
}

/** Text of a file in the data folder. */
export function dataText(path: string): string {
  return new TextDecoder().decode(dataBytes(path));
}

/** A group of tests that needs the data folder: skipped, with the reason in its title, where there is none. */
export function describeWithData(title: string, tests: () => void): void {
  if (hasData) describe(title, tests);
  else describe.skip(`${title} (skipped: LEAPSHEET_DATA does not name the data folder)`, tests);
}
