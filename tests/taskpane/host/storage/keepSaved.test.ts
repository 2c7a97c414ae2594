import { afterEach, beforeEach, describe, expect, test, vi } from "vitest";
import { keepSaved, type Keeper, type SaveState, type SheetToKeep } from "../../../../taskpane/host/storage/keepSaved.ts";
import type { ChangeByHand, SavedPart } from "../../../../taskpane/host/storage/savedParts.ts";

/** A sheet of one part whose rows are written one by one, each with a long text that was never seen before. */
function growingSheet() {
  const rows: string[] = [];
  const typed: ChangeByHand[] = [];
  const changed = new Set<() => void>();
  const large = new Set<() => Promise<void>>();
  let ends: (() => void)[] | undefined;
  const sheet: SheetToKeep = {
    changedTexts: () => rows,
    takeChanged: () => ({
      head: { id: "w", sheets: {} },
      present: [{ sheet: "s", part: 0 }],
      changed: [{ sheet: "s", part: 0, cellData: Object.fromEntries(rows.map((v, row) => [row, { 0: { v } }])), computed: { spills: [], sentences: [] } }],
      changes: { everything: false, sheets: new Map(), byHand: typed.splice(0) },
      settled: true,
    }),
    putBack: ({ byHand }) => void typed.unshift(...byHand),
    byHand: () => typed,
    isHalfWritten: () => ends !== undefined,
    onWorkbookChange: (listener) => (changed.add(listener), () => changed.delete(listener)),
    settled: async () => {},
    between: (run) => (ends ? new Promise((resolve) => ends!.push(() => resolve(run()))) : Promise.resolve(run())),
    onLargeBatch: (listener) => (large.add(listener), () => large.delete(listener)),
  };
  let mark = 0;
  return {
    sheet,
    write() {
      rows.push(`LEAPF1 ${mark++} ${Math.random()} `.repeat(60));
      for (const listener of changed) listener();
      return rows.length;
    },
    type(text: string) {
      typed.push({ id: "typed", params: { text } });
      for (const listener of changed) listener();
    },
    begin: () => void (ends = []),
    end() {
      const waiting = ends!;
      ends = undefined;
      for (const run of waiting) run();
    },
    beforeLargeBatch: () => Promise.all([...large].map((listener) => listener())),
  };
}

/** A store that takes its time, and remembers how many rows it held when. */
function slowStore(takes: number) {
  const held: { at: number; rows: number }[] = [];
  const besides: { at: number; texts: unknown[] }[] = [];
  let refuses = false;
  return {
    held,
    besides,
    rows: () => held.at(-1)?.rows ?? 0,
    refuse: (yes: boolean) => void (refuses = yes),
    store: {
      load: async () => undefined,
      replace: async () => {},
      name: () => undefined,
      former: async () => undefined,
      putBack: async () => {},
      async saveByHand(changes: readonly ChangeByHand[]) {
        await sleep(takes);
        if (refuses) throw new DOMException("full", "QuotaExceededError");
        besides.push({ at: performance.now(), texts: changes.map(({ params }) => (params as { text: string }).text) });
      },
      async save(_head: unknown, parts: readonly SavedPart[]) {
        await sleep(takes);
        if (refuses) throw new DOMException("full", "QuotaExceededError");
        held.push({ at: performance.now(), rows: Object.keys(parts[0].cellData).length });
      },
    },
  };
}

const sleep = (ms: number) => new Promise<void>((resolve) => setTimeout(resolve, ms));

describe("keeping a workbook saved", () => {
  let keeper: Keeper | undefined;
  beforeEach(() => {
    vi.stubGlobal("document", new EventTarget());
    vi.stubGlobal("addEventListener", () => {});
    vi.stubGlobal("removeEventListener", () => {});
  });
  afterEach(() => {
    keeper?.stop();
    vi.unstubAllGlobals();
  });

  test("stores every row within a second while rows with new long texts never stop coming", async () => {
    const { sheet, write } = growingSheet();
    const { store, held } = slowStore(100);
    keeper = keepSaved(sheet, store, "program", () => {});
    const written: number[] = [];
    for (const started = performance.now(); performance.now() - started < 2500; await sleep(10)) {
      written.push(performance.now());
      write();
    }
    const end = performance.now();
    const late = written.filter((at, row) => {
      const stored = held.find(({ rows }) => rows > row);
      return stored ? stored.at - at > 1000 : end - at > 1000;
    });
    expect(written.length).toBeGreaterThan(100);
    expect(late).toEqual([]);
  });

  test("takes its copy between two batches that follow each other without a rest", async () => {
    const { sheet, write, begin, end } = growingSheet();
    const { store, held } = slowStore(20);
    keeper = keepSaved(sheet, store, "program", () => {});
    begin();
    for (const started = performance.now(); performance.now() - started < 1500; ) {
      write();
      await sleep(20);
      write();
      end();
      begin();
    }
    expect(held.length).toBeGreaterThan(1);
    // Two rows a batch: a copy never holds one of them.
    expect(held.filter(({ rows }) => rows % 2 === 1)).toEqual([]);
    end();
  });

  test("stores what was changed before a long batch without waiting for its end", async () => {
    const { sheet, write, beforeLargeBatch, begin, end } = growingSheet();
    const { store, rows } = slowStore(50);
    keeper = keepSaved(sheet, store, "program", () => {});
    write();
    await beforeLargeBatch();
    begin();
    write();
    await sleep(700);
    expect(rows()).toBe(1);
    end();
    await keeper.flush();
    expect(rows()).toBe(2);
  });

  test("stores what is typed in the middle of a long batch within a second, in order and without the batch, and once", async () => {
    const { sheet, write, type, begin, end } = growingSheet();
    const { store, rows, besides } = slowStore(50);
    keeper = keepSaved(sheet, store, "program", () => {});
    write();
    await keeper.flush();
    begin();
    const typed: { at: number; text: string }[] = [];
    for (const started = performance.now(); performance.now() - started < 2500; await sleep(20)) {
      write();
      if (typed.length < 3 && performance.now() - started > 600 * typed.length) {
        typed.push({ at: performance.now(), text: `typed ${typed.length}` });
        type(typed.at(-1)!.text);
      }
    }
    expect(rows()).toBe(1);
    expect(besides.map(({ texts }) => texts)).toEqual([["typed 0"], ["typed 0", "typed 1"], ["typed 0", "typed 1", "typed 2"]]);
    expect(typed.filter(({ at }, index) => besides[index]!.at - at > 1000)).toEqual([]);
    end();
    await keeper.flush();
    expect(rows()).toBeGreaterThan(50);
    expect(sheet.byHand()).toEqual([]);
  });

  test("what was typed between a copy that could not be stored and the end of a batch is stored in order with it", async () => {
    const { sheet, write, type, begin } = growingSheet();
    const { store, besides, refuse } = slowStore(20);
    keeper = keepSaved(sheet, store, "program", () => {});
    refuse(true);
    type("before");
    write();
    await keeper.flush();
    expect(keeper.fault()?.name).toBe("QuotaExceededError");
    refuse(false);
    begin();
    type("after");
    await sleep(500);
    expect(besides.at(-1)?.texts).toEqual(["before", "after"]);
  });

  test("a flush in the middle of a batch waits for its end, and has all of it", async () => {
    const { sheet, write, begin, end } = growingSheet();
    const { store, rows } = slowStore(5);
    keeper = keepSaved(sheet, store, "program", () => {});
    begin();
    write();
    const flushed = keeper.flush();
    await sleep(50);
    expect(rows()).toBe(0);
    write();
    end();
    await flushed;
    expect(rows()).toBe(2);
  });

  test("tells that storing failed, and tries again with the next change", async () => {
    const { sheet, write } = growingSheet();
    const { store, rows, refuse } = slowStore(5);
    const states: SaveState["kind"][] = [];
    keeper = keepSaved(sheet, store, "program", ({ kind }) => states.push(kind));
    refuse(true);
    write();
    await sleep(400);
    expect(states).toEqual(["saving", "failed"]);
    refuse(false);
    write();
    await sleep(400);
    expect(states).toEqual(["saving", "failed", "saving", "saved"]);
    expect(rows()).toBe(2);
  });
});
