/** What the sheet calls the kinds of cell. */
export const CELL_TYPE = { text: 1, number: 2, boolean: 3, forcedText: 4 } as const;

/** The type of a text cell: forced where the sheet would otherwise take the text for a number, a formula or an error. */
export function typeOfText(text: string): number {
  return couldBeTakenForMore(text) ? CELL_TYPE.forcedText : CELL_TYPE.text;
}

const couldBeTakenForMore = (text: string) => /^[\s]*[=+\-@#{'0-9.]/.test(text) || /^\s*(true|false)\s*$/i.test(text);
