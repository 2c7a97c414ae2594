const LOCK = "leapsheet-workbook";
const CHANNEL = "leapsheet-workbook";

/** How long a tab may take to save and let go when another asks, in ms. */
const PATIENCE = 3000;

/** Which tab may save: one at a time. */
export interface TabLock {
  /** Whether this tab holds the workbook. */
  readonly held: boolean;
  /** Asks the tab that holds it to save and let go; resolves when this tab may reload and take it. */
  takeOver(): Promise<void>;
}

/**
 * Tries to hold the workbook for as long as this tab lives.
 *
 * @param letGo Called when another tab asks for it: saves, and saves no more.
 */
export async function lockTab(letGo: () => Promise<void>): Promise<TabLock> {
  if (!navigator.locks || typeof BroadcastChannel === "undefined") return { held: true, takeOver: async () => {} };
  const channel = new BroadcastChannel(CHANNEL);
  let release = () => {};
  const held = await new Promise<boolean>((resolve) => {
    void navigator.locks.request(LOCK, { ifAvailable: true }, (lock) => {
      resolve(lock !== null);
      return lock ? new Promise<void>((done) => (release = done)) : undefined;
    });
  });
  if (held) {
    channel.addEventListener("message", ({ data }) => {
      if (data === "let go") void letGo().finally(() => release());
    });
  }
  return {
    held,
    async takeOver() {
      channel.postMessage("let go");
      // Granted as soon as the other tab lets go; then free again for the page that reloads.
      await navigator.locks.request(LOCK, { signal: AbortSignal.timeout(PATIENCE) }, () => {}).catch(() => {
        throw new Error("the other tab does not answer; close it, then reload this one");
      });
    },
  };
}
