import type { PictureOf } from "../SheetHost.ts";

/** Begins the id of every picture that is placed: a person's own has another. */
const OURS = "leapsheet-";

/** Id of a picture that is placed for something. */
export function pictureId(of: PictureOf, unique: string): string {
  return `${OURS}${of}-${unique}`;
}

/** What the picture of an id was placed for; `undefined` for a person's own. */
export function placedFor(id: string | undefined): PictureOf | undefined {
  return new RegExp(`^${OURS}(report|chart)-`).exec(id ?? "")?.[1] as PictureOf | undefined;
}
