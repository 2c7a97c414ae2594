import { readdirSync, statSync } from "node:fs";
import path from "node:path";

/** Kinds of file that are recordings; anything else in a folder is passed over. A file named outright is always read. */
const RECORDINGS = /\.(txt|csv|tsv|dat|asc|mot|sto|c3d|xlsx)$/i;

/** Files to read, in a stable order: named files as they are, folders with all recordings below them. */
export function collectFiles(places: readonly string[]): string[] {
  const files: string[] = [];
  for (const place of places) {
    const found = statSync(place, { throwIfNoEntry: false });
    if (found?.isDirectory()) {
      files.push(...recordingsUnder(place));
    } else {
      files.push(place);
    }
  }
  return files;
}

function recordingsUnder(folder: string): string[] {
  return readdirSync(folder, { withFileTypes: true })
    .sort((a, b) => (a.name < b.name ? -1 : 1))
    .flatMap((entry) => {
      const place = path.join(folder, entry.name);
      if (entry.isDirectory()) {
        return recordingsUnder(place);
      }
      return RECORDINGS.test(entry.name) ? [place] : [];
    });
}
