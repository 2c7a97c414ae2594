import { startTransition, useCallback, useEffect, useRef, useState, type RefObject } from "react";
import { flushSync } from "react-dom";

/** How far from the view a part is drawn, so that slow scrolling meets no gap. */
const MARGIN = "800px 0px";

/** Lines that are drawn at once to begin with, the fewest and the most: as many as the page finds time for. */
const PIECE = { first: 6, fewest: 2, most: 12 } as const;

/** What a piece may take and still grow, and beyond which it shrinks, ms. */
const TIME = { short: 16, long: 50 } as const;

/** Lines of a list that are drawn together. */
export interface ListPart {
  readonly id: string;
  readonly lines: number;
}

export interface DrawnParts {
  /** Parts that were wanted and had their turn; they stay drawn. */
  readonly drawn: ReadonlySet<string>;
  /** Draws a part at once, for a focus that goes there. */
  readonly reach: (part: string) => void;
  /** For a press on the list: nothing more is drawn until it ends, so that what is under the pointer stays there and the click counts. */
  readonly hold: (press: { readonly button: number }) => void;
}

/**
 * Which parts of a long list to draw, a few lines at a time so that no frame takes long: those that are always wanted, then those that come
 * near the view. A part that is not drawn stands in `list` as one element that says `data-part` and takes about as much room. Where the
 * browser cannot tell what is near, all of them are wanted.
 *
 * @param parts All parts in their order.
 * @param always Which of them are wanted wherever they stand.
 * @param choice What the list shows: another choice is another list, of which nothing is drawn yet.
 */
export function useDrawnParts<P extends ListPart>(list: RefObject<HTMLElement>, parts: readonly P[], always: (part: P) => boolean, choice: string): DrawnParts {
  const [state, setState] = useState<{ readonly choice: string; readonly drawn: ReadonlySet<string> }>({ choice, drawn: NONE });
  const [held, setHeld] = useState<ReadonlySet<string>>();
  const drawn = held ?? (state.choice === choice ? state.drawn : NONE);
  const add = useCallback((more: readonly string[]) => setState((before) => ({ choice, drawn: new Set([...(before.choice === choice ? before.drawn : NONE), ...more]) })), [choice]);

  /** Parts near the view, in the order in which they came there. */
  const near = useRef(new Set<string>());
  const piece = useRef<{ readonly lines: number; readonly begun?: number; readonly parts?: readonly string[]; readonly choice?: string }>({ lines: PIECE.first });
  const timer = useRef<ReturnType<typeof setTimeout>>();
  const observer = useRef<IntersectionObserver>();
  const release = useRef<() => void>();

  const draw = useRef(() => undefined as void);
  const drawNext = (): void => {
    if (release.current !== undefined) return;
    const there = new Map(parts.map((part) => [part.id, part]));
    // One piece after the other: what follows waits until this stands.
    if (piece.current.choice === choice && piece.current.parts?.some((id) => there.has(id) && !drawn.has(id))) return;
    const wanted = [...parts.filter(always), ...[...near.current].flatMap((id) => there.get(id) ?? [])].filter(({ id }) => !drawn.has(id));
    const next: string[] = [];
    for (let lines = 0; next.length < wanted.length; next.push(wanted[next.length].id)) {
      lines += wanted[next.length].lines;
      if (next.length > 0 && lines > piece.current.lines) break;
    }
    if (next.length === 0) return;
    piece.current = { lines: piece.current.lines, begun: performance.now(), parts: next, choice };
    // In slices between which the page answers.
    startTransition(() => add(next));
  };
  const later = useCallback(() => {
    timer.current ??= setTimeout(() => {
      timer.current = undefined;
      draw.current();
    });
  }, []);

  // After every drawing: what is watched already is not watched twice, and what is begun next knows what stands, not what is still being drawn.
  useEffect(() => {
    draw.current = drawNext;
    const { lines, begun, parts: begunParts } = piece.current;
    if (begun !== undefined && begunParts?.every((id) => drawn.has(id))) {
      const took = performance.now() - begun;
      piece.current = { lines: took > TIME.long ? Math.max(lines / 2, PIECE.fewest) : took < TIME.short ? Math.min(lines * 1.5, PIECE.most) : lines };
    }
    const waiting = list.current?.querySelectorAll<HTMLElement>("[data-part]") ?? [];
    if (waiting.length === 0) return;
    if (typeof IntersectionObserver === "undefined") {
      for (const element of waiting) near.current.add(element.dataset.part!);
    } else {
      observer.current ??= new IntersectionObserver(
        (entries) => {
          for (const { isIntersecting, target } of entries) {
            if (isIntersecting) near.current.add((target as HTMLElement).dataset.part!);
            else near.current.delete((target as HTMLElement).dataset.part!);
          }
          later();
        },
        { root: list.current!.closest("[role=tabpanel]"), rootMargin: MARGIN },
      );
      for (const element of waiting) observer.current.observe(element);
    }
    later();
  });
  useEffect(
    () => () => {
      clearTimeout(timer.current);
      observer.current?.disconnect();
      release.current?.();
    },
    [],
  );

  const reach = useCallback(
    (part: string) =>
      flushSync(() => {
        setHeld(undefined);
        add([part]);
      }),
    [add],
  );
  const hold = ({ button }: { readonly button: number }): void => {
    // Other buttons open a menu, which may keep the end of the press to itself.
    if (button !== 0 || release.current !== undefined) return;
    // A piece that is being drawn now comes after the press; how long that takes says nothing.
    piece.current = { ...piece.current, begun: undefined };
    setHeld(drawn);
    release.current = () => {
      release.current = undefined;
      for (const end of PRESS_ENDS) removeEventListener(end, ended, true);
    };
    const ended = (): void => {
      release.current?.();
      // The click comes right after the end of the press, and first.
      setTimeout(() => startTransition(() => setHeld(undefined)));
    };
    for (const end of PRESS_ENDS) addEventListener(end, ended, true);
  };
  return { drawn, reach, hold };
}

const NONE: ReadonlySet<string> = new Set();

/** What ends a press; of a touch that becomes scrolling the browser says that it is cancelled. */
const PRESS_ENDS = ["pointerup", "pointercancel"] as const;
