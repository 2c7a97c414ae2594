import { statSync } from "node:fs";
import { resolve } from "node:path";
import { InputError } from "../src/errors.ts";

/**
 * Refuses to write where something is read from: a recording would be lost before it was read.
 *
 * Files are compared by what they are, not by how they are named: `./a.csv`, a link to it and its full path are one.
 *
 * @throws {InputError} `wrong-shape` with the name of the file.
 */
export function refuseOverwriting(read: readonly string[], written: readonly (string | undefined)[]): void {
  const places = written.filter((place) => place !== undefined).map((place) => resolve(place));
  const identities = places.flatMap((place) => identityOf(place) ?? []);
  if (places.length === 2 && (places[0] === places[1] || (identities.length === 2 && identities[0] === identities[1]))) {
    throw new InputError("wrong-shape", "writing results and samples requires two files");
  }
  if (identities.length === 0) {
    return;
  }
  const lost = read.find((file) => identities.includes(identityOf(file) ?? ""));
  if (lost !== undefined) {
    throw new InputError("wrong-shape", `writing requires a file that is not one of the recordings, and ${lost} is; nothing was written`);
  }
}

/** Device and number of an existing ordinary file; a terminal or a pipe loses nothing. */
function identityOf(place: string): string | undefined {
  const found = statSync(place, { bigint: true, throwIfNoEntry: false });
  return found?.isFile() ? `${found.dev} ${found.ino}` : undefined;
}
