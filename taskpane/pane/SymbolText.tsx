import { Fragment, type ReactNode } from "react";

/** Text of a step's formula with lowered and raised parts: `v_TO^2` as a symbol with index and power. */
export function SymbolText({ text }: { readonly text: string }): ReactNode {
  const pieces = text.replace(/(?<![A-Za-z])-|-(?![A-Za-z])/g, "\u2212").replaceAll("<=", "\u2264").split(/(_[A-Za-z0-9]+|\^[0-9]+)/);
  return (
    <>
      {pieces.map((piece, place) => (
        <Fragment key={place}>{piece.startsWith("_") ? <sub>{piece.slice(1)}</sub> : piece.startsWith("^") ? <sup>{piece.slice(1)}</sup> : piece}</Fragment>
      ))}
    </>
  );
}
