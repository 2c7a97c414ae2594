/** A piece of a formula's text: raised, lowered or neither. */
export interface SymbolPiece {
  readonly text: string;
  readonly shift: "none" | "lowered" | "raised";
}

/** Lowered and raised parts of a formula's text: `v_TO^2` is a symbol with index and power. */
export function symbolPieces(text: string): readonly SymbolPiece[] {
  return text
    .replace(/(?<![A-Za-z])-|-(?![A-Za-z])/g, "\u2212")
    .replaceAll("<=", "\u2264")
    .split(/(_[A-Za-z0-9]+|\^[0-9]+)/)
    .filter((piece) => piece !== "")
    .map((piece) => (piece.startsWith("_") ? { text: piece.slice(1), shift: "lowered" } : piece.startsWith("^") ? { text: piece.slice(1), shift: "raised" } : { text: piece, shift: "none" }));
}
