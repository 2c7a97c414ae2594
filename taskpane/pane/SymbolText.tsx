import { Fragment, type ReactNode } from "react";
import { symbolPieces } from "../explain/symbolPieces.ts";

/** Text of a step's formula with lowered and raised parts: `v_TO^2` as a symbol with index and power. */
export function SymbolText({ text }: { readonly text: string }): ReactNode {
  return (
    <>
      {symbolPieces(text).map((piece, place) => (
        <Fragment key={place}>{piece.shift === "lowered" ? <sub>{piece.text}</sub> : piece.shift === "raised" ? <sup>{piece.text}</sup> : piece.text}</Fragment>
      ))}
    </>
  );
}
