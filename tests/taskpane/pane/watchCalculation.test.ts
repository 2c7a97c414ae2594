import { afterEach, beforeEach, describe, expect, test, vi } from "vitest";
import type { SheetHost } from "../../../taskpane/host/SheetHost.ts";
import { watchCalculation } from "../../../taskpane/pane/watchCalculation.ts";

beforeEach(() => void vi.useFakeTimers());
afterEach(() => void vi.useRealTimers());

/** A host whose calculation takes as long as the test says. */
function calculating(times: readonly number[], failures = 0) {
  const listeners = new Set<() => void>();
  let next = 0;
  let failed = 0;
  const host = {
    settled: () =>
      failed < failures
        ? (failed++, Promise.reject(new Error("still calculating")))
        : new Promise<void>((resolve) => void setTimeout(resolve, times[next++] ?? 0)),
    onChange: (listener: () => void) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
  } as unknown as SheetHost;
  return { host, change: () => listeners.forEach((listener) => listener()), listeners };
}

describe("watchCalculation", () => {
  test("is silent while the sheet is done within the time", async () => {
    const { host, change } = calculating([100, 7900]);
    const said: boolean[] = [];
    watchCalculation(host, 8000, (busy) => said.push(busy));
    await vi.advanceTimersByTimeAsync(1000);
    change();
    await vi.advanceTimersByTimeAsync(20_000);
    expect(said).toEqual([]);
  });

  test("tells that the sheet is busy, once for many changes, and when it is done", async () => {
    const { host, change } = calculating([0, 30_000]);
    const said: boolean[] = [];
    watchCalculation(host, 8000, (busy) => said.push(busy));
    await vi.advanceTimersByTimeAsync(10);
    for (let i = 0; i < 5; i++) change();
    await vi.advanceTimersByTimeAsync(7990);
    expect(said).toEqual([]);
    await vi.advanceTimersByTimeAsync(20);
    expect(said).toEqual([true]);
    await vi.advanceTimersByTimeAsync(25_000);
    expect(said).toEqual([true, false]);
  });

  test("asks again where the host gave up waiting", async () => {
    const { host } = calculating([500], 12);
    const said: boolean[] = [];
    watchCalculation(host, 8000, (busy) => said.push(busy));
    await vi.advanceTimersByTimeAsync(8001);
    expect(said).toEqual([true]);
    await vi.advanceTimersByTimeAsync(10_000);
    expect(said).toEqual([true, false]);
  });

  test("says nothing more when nobody watches", async () => {
    const { host, listeners } = calculating([60_000]);
    const said: boolean[] = [];
    const stop = watchCalculation(host, 8000, (busy) => said.push(busy));
    stop();
    await vi.advanceTimersByTimeAsync(100_000);
    expect(said).toEqual([]);
    expect(listeners.size).toBe(0);
  });
});
