/** Characters that move the cursor, colour or clear a terminal, break a line, or turn the direction of writing. */
const HIDDEN = /[\u0000-\u001f\u007f-\u009f\u200e\u200f\u2028-\u202e\u2066-\u2069]/g;

/** A text of a file (its name, a head in it) for a line at a terminal: what would act there is spelled out, `\u001b`. */
export function visible(text: string): string {
  return text.replace(HIDDEN, (character) => `\\u${character.charCodeAt(0).toString(16).padStart(4, "0")}`);
}
