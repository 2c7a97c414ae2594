import { useEffect, useState } from "react";

/** Rows that are drawn at once. */
const STEP = 40;

/** How many rows of a long list to draw: some at once, then more as the page finds time, so that no frame takes long. */
export function useGrowing(total: number, step = STEP): number {
  const [shown, setShown] = useState(step);
  useEffect(() => {
    if (shown >= total) return undefined;
    const timer = setTimeout(() => setShown((before) => before + step));
    return () => clearTimeout(timer);
  }, [shown, total, step]);
  return Math.min(shown, total);
}
