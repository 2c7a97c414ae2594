import type { SheetHost, Unsubscribe } from "../host/SheetHost.ts";

/** Between two looks at a host that does not say when it is done, ms. */
const AGAIN = 1000;

/**
 * Tells when the spreadsheet has been computing for longer than `patience` milliseconds, and when it is done. It looks once at the start and
 * then whenever something in the workbook changes.
 *
 * @returns Stops watching.
 */
export function watchCalculation(host: SheetHost, patience: number, onBusy: (busy: boolean) => void): Unsubscribe {
  let watching = false;
  let stopped = false;
  const look = async (): Promise<void> => {
    if (watching || stopped) return;
    watching = true;
    let told = false;
    const timer = setTimeout(() => {
      told = !stopped;
      if (!stopped) onBusy(true);
    }, patience);
    while (!stopped) {
      try {
        await host.settled();
        break;
      } catch {
        // A host gives up waiting after a while, or cannot answer while a cell is being edited.
        await new Promise((resolve) => setTimeout(resolve, AGAIN));
      }
    }
    clearTimeout(timer);
    watching = false;
    if (told && !stopped) onBusy(false);
  };
  void look();
  const unsubscribe = host.onChange(() => void look());
  return () => {
    stopped = true;
    unsubscribe();
  };
}
