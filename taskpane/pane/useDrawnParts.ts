import { startTransition, useCallback, useEffect, useRef, useState, type RefObject } from "react";
import { flushSync } from "react-dom";

/** How far from the view a part is drawn, so that slow scrolling meets no gap. */
const MARGIN = "800px 0px";

export interface DrawnParts {
  /** Parts that came near the view once; they stay drawn. */
  readonly drawn: ReadonlySet<string>;
  /** Draws a part at once, for a focus that goes there. */
  readonly reach: (part: string) => void;
}

/**
 * Which parts of a long list to draw: those that came near the view. A part that is not drawn stands in `list` as one element that says
 * `data-part` and takes about as much room. Where the browser cannot tell what is near, all of them are drawn.
 */
export function useDrawnParts(list: RefObject<HTMLElement>): DrawnParts {
  const [drawn, setDrawn] = useState<ReadonlySet<string>>(() => new Set());
  const observer = useRef<IntersectionObserver>();

  useEffect(() => () => observer.current?.disconnect(), []);
  // After every drawing: what is watched already is not watched twice.
  useEffect(() => {
    const waiting = list.current?.querySelectorAll<HTMLElement>("[data-part]") ?? [];
    if (waiting.length === 0) return;
    const add = (parts: readonly string[]): void => {
      // Drawn in slices between which the page answers.
      if (parts.length > 0) startTransition(() => setDrawn((before) => new Set([...before, ...parts])));
    };
    if (typeof IntersectionObserver === "undefined") {
      add([...waiting].map((element) => element.dataset.part!));
      return;
    }
    observer.current ??= new IntersectionObserver(
      (entries) => add(entries.flatMap(({ isIntersecting, target }) => (isIntersecting ? [(target as HTMLElement).dataset.part!] : []))),
      { root: list.current!.closest("[role=tabpanel]"), rootMargin: MARGIN },
    );
    for (const element of waiting) observer.current.observe(element);
  });

  const reach = useCallback((part: string) => flushSync(() => setDrawn((before) => (before.has(part) ? before : new Set([...before, part])))), []);
  return { drawn, reach };
}
