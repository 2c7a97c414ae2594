import { contentHash } from "../read/contentHash.ts";

/** Forces of a coursework stand in the sheet to the hundredth of a newton. */
const PER_NEWTON = 100;

/**
 * A hash of the forces of a recording as a student's sheet holds them: SHA-256 of the number of plates and of every force, rounded to 0.01 N.
 *
 * It tells whether a recording that came back is the one that was handed out, and nothing about what is in it.
 *
 * @param plates Forces of each plate, in the order of the sheet, N.
 * @returns 64 hexadecimal digits, no unit.
 */
export function recordingHash(plates: readonly ArrayLike<number>[]): string {
  const samples = plates.reduce((sum, plate) => sum + plate.length, 0);
  const view = new DataView(new ArrayBuffer(4 * (1 + plates.length + samples)));
  let at = 0;
  const add = (whole: number): void => {
    view.setInt32(at, whole);
    at += 4;
  };
  add(plates.length);
  for (const plate of plates) {
    add(plate.length);
    for (let i = 0; i < plate.length; i++) add(Math.round(plate[i]! * PER_NEWTON));
  }
  return contentHash(new Uint8Array(view.buffer));
}
