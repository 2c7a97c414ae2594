import { useCallback, useLayoutEffect, useRef, type FocusEvent, type RefObject } from "react";

const FOCUSABLE = "button, input, select, a[href]";

/**
 * Keeps the focus on a line of a list while the list is drawn anew: where the focused line went and another of the same
 * `data-line` came (in another group, say), the same part of that one is focused. Focus that a person took elsewhere is left there.
 *
 * @returns What the element around the list listens with.
 */
export function useKeptFocus(list: RefObject<HTMLElement>): { readonly onFocus: (event: FocusEvent) => void; readonly onBlur: () => void } {
  const held = useRef<{ readonly element: Element; readonly line: string; readonly part: number }>();
  const onFocus = useCallback(({ target }: FocusEvent) => {
    const line = target.closest("li");
    const id = line?.querySelector<HTMLElement>("[data-line]")?.dataset.line;
    held.current = id === undefined ? undefined : { element: target, line: id, part: [...line!.querySelectorAll(FOCUSABLE)].indexOf(target) };
  }, []);
  // A line that is taken away while it has the focus loses it without a blur that React tells of.
  const onBlur = useCallback(() => {
    held.current = undefined;
  }, []);
  // After every drawing: it is a look at one reference, unless the focused line went.
  useLayoutEffect(() => {
    const { element, line, part } = held.current ?? {};
    if (element === undefined || element.isConnected) return;
    const at = document.activeElement;
    if (list.current === null || (at !== null && at !== document.body)) {
      held.current = undefined;
      return;
    }
    const again = list.current.querySelector(`[data-line="${CSS.escape(line!)}"]`)?.closest("li");
    // Not drawn yet, in a long list: it comes with a later drawing.
    again?.querySelectorAll<HTMLElement>(FOCUSABLE)[part ?? 0]?.focus();
  });
  return { onFocus, onBlur };
}
