import { describe, expect, test } from "vitest";
import { contentHash } from "../../../../src/read/contentHash.ts";
import { syntheticTrial } from "../../../../src/synthetic/syntheticTrial.ts";
import { unpackTrace } from "../../../../src/trace/unpackTrace.ts";
import { carryOut, type ReadResult, type ReadTask } from "../../../../taskpane/pane/bringIn/carryOut.ts";
import { createReaders, type ReaderAnswer, type ReaderThread } from "../../../../taskpane/pane/bringIn/createReaders.ts";
import { samplesOf } from "../../../../taskpane/pane/bringIn/samplesOf.ts";
import { words } from "../../../../taskpane/pane/words.ts";

const { trace: jump } = syntheticTrial({ test: "CMJ", seed: 3, mass: 70, height: 0.3, faults: { noise: 0.5 } });
const [left, right] = ["left", "right"].map((role) => jump.plates.find((plate) => plate.role === role)!.force);
const text = ["time,left,right", ...Array.from(left, (force, i) => `${(i / jump.rate).toFixed(3)},${force.toFixed(2)},${right[i].toFixed(2)}`)].join("\n");
const fileOf = (name: string, content = text): File => new File([content], name);
const read = (name: string, content?: string): ReadTask => ({ kind: "read", file: fileOf(name, content), path: name, remembered: [], test: "CMJ" });

type Behaviour = (task: ReadTask, thread: FakeThread) => void;

/** Stands in for a `Worker`: what crosses between the threads is cloned, as the browser does it. */
class FakeThread implements ReaderThread {
  onmessage: ReaderThread["onmessage"] = null;
  onmessageerror: ReaderThread["onmessageerror"] = null;
  onerror: ReaderThread["onerror"] = null;
  readonly tasks: ReadTask[] = [];
  terminated = false;

  constructor(
    private readonly behaviour: Behaviour,
    readonly stands = true,
  ) {
    if (stands) queueMicrotask(() => this.answer({ kind: "ready" }));
  }
  postMessage(task: ReadTask): void {
    this.tasks.push(task);
    if (this.stands) this.behaviour(task, this);
  }
  terminate(): void {
    this.terminated = true;
  }
  answer(answer: ReaderAnswer): void {
    const transfer = answer.kind === "done" ? samplesOf(answer.result) : [];
    this.onmessage?.({ data: structuredClone(answer, { transfer }) } as MessageEvent<ReaderAnswer>);
  }
  crash(): void {
    this.onerror?.({ preventDefault: () => undefined } as ErrorEvent);
  }
}

const works: Behaviour = (task, thread) => void carryOut(task).then((result) => thread.answer({ kind: "done", result }));
/** Readers over fake threads, and the threads that were started. */
function readersOf(behaviour: Behaviour, options: { most?: number; stands?: (place: number) => boolean; startPatience?: number; rest?: number } = {}) {
  const threads: FakeThread[] = [];
  const readers = createReaders({
    most: options.most ?? 2,
    startPatience: options.startPatience,
    rest: options.rest,
    start: () => {
      const thread = new FakeThread(behaviour, options.stands?.(threads.length) ?? true);
      threads.push(thread);
      return thread;
    },
  });
  return { readers, threads };
}
const fileName = (task: ReadTask): string => (task.kind === "read" ? task.file.name : "");

describe("carryOut", () => {
  test("reads a file, finds its trial and packs it as it will stand in the sheet", async () => {
    const { reading, trials } = await carryOut(read("ann.csv"));
    expect(reading?.problem).toBeUndefined();
    expect(reading?.recording?.hash).toBe(contentHash(new TextEncoder().encode(text)));
    expect(trials).toHaveLength(1);
    // Round trip: the text holds the samples that were written to two decimals, exactly; minus zero has no meaning as a force.
    const back = unpackTrace(trials[0].draft.packed!);
    const own = trials[0].draft.trace;
    if (!("plates" in back) || !("plates" in own)) throw new Error("a trace is expected");
    expect(back.plates.map((plate) => plate.role)).toEqual(own.plates.map((plate) => plate.role));
    back.plates.forEach((plate, place) => expect(plate.force).toEqual(own.plates[place].force.map((force) => force + 0)));
  });
  test("searches a recording again for another test", async () => {
    const { trials, test: searchedFor } = await carryOut({ kind: "search", trace: jump, test: "SJ" });
    expect(searchedFor).toBe("SJ");
    expect(trials[0].draft.protocol).toEqual({ test: "SJ" });
  });
  test("takes names and test from the pattern of a remembered recipe", async () => {
    const { reading: first } = await carryOut(read("ann.csv"));
    const heads = `text: ${first!.recording!.columns.map((column) => [column.group, column.name, column.unit].filter((part) => part !== undefined && part !== "").join(" ")).join(" | ")}`;
    const task = { ...read("ann_SJ.csv"), remembered: [{ name: "ours", heads, recipe: first!.recording!.recipe, pattern: "{athlete}_{test}" }] } as ReadTask;
    const { reading, test: searchedFor } = await carryOut(task);
    expect([reading?.remembered, reading?.athlete, reading?.test, searchedFor]).toEqual(["ours", "ann", "SJ", "SJ"]);
  });
  test("gives a whole result that can be handed to another thread, its samples moved and not copied", async () => {
    const result = await carryOut(read("ann.csv"));
    const samples = result.reading!.trace!.plates[0].force.length;
    const moved = structuredClone(result, { transfer: samplesOf(result) });
    expect(moved.reading!.trace!.plates[0].force).toHaveLength(samples);
    expect(result.reading!.trace!.plates[0].force).toHaveLength(0);
  });
});

describe("readers", () => {
  test("give every file its own result, whichever thread reads it, and never start more than two threads", async () => {
    const { readers, threads } = readersOf(works);
    const names = ["a.csv", "b.csv", "c.csv", "d.csv", "e.csv"];
    const results = await Promise.all(names.map((name) => readers.run(read(name, name === "c.csv" ? "" : text))));
    expect(results.map((result) => result.reading?.recording?.fileName)).toEqual(["a.csv", "b.csv", undefined, "d.csv", "e.csv"]);
    expect(results[2].reading?.problem).toMatch(/something in it/);
    expect(threads).toHaveLength(2);
    expect(threads.flatMap((thread) => thread.tasks.map(fileName)).sort()).toEqual(names);
  });

  test("start one thread for one file after another", async () => {
    const { readers, threads } = readersOf(works);
    await readers.run(read("a.csv"));
    await readers.run(read("b.csv"));
    expect(threads).toHaveLength(1);
  });

  test("end threads that have had no work for a while", async () => {
    const { readers, threads } = readersOf(works, { rest: 20 });
    await readers.run(read("a.csv"));
    await expect.poll(() => threads[0].terminated).toBe(true);
    expect((await readers.run(read("b.csv"))).trials).toHaveLength(1);
    expect(threads).toHaveLength(2);
  });

  test("end the threads of a cancelled list in the middle of their work, and read again after it", async () => {
    let silent = true;
    const { readers, threads } = readersOf((task, thread) => silent || works(task, thread));
    const controller = new AbortController();
    const list = ["a.csv", "b.csv", "c.csv"].map((name) => readers.run(read(name), controller.signal));
    await Promise.resolve();
    controller.abort();
    const ends = await Promise.allSettled(list);
    expect(ends.map((end) => end.status === "rejected" && (end.reason as Error).name)).toEqual(["AbortError", "AbortError", "AbortError"]);
    expect(threads.map((thread) => thread.terminated)).toEqual(threads.map(() => true));
    silent = false;
    expect((await readers.run(read("d.csv"))).trials).toHaveLength(1);
    await expect(readers.run(read("e.csv"), controller.signal)).rejects.toThrow("cancelled");
  });

  test("say of the one file that broke its thread that it could not be worked on, and read the others", async () => {
    const { readers, threads } = readersOf((task, thread) => (fileName(task) === "bad.csv" ? queueMicrotask(() => thread.crash()) : works(task, thread)));
    await readers.run(read("first.csv"));
    const ends = await Promise.allSettled(["bad.csv", "b.csv", "c.csv"].map((name) => readers.run(read(name))));
    expect(ends.map((end) => (end.status === "rejected" ? (end.reason as Error).message : end.value.trials.length))).toEqual([words.bringIn.threadFault, 1, 1]);
    expect(threads.filter((thread) => thread.terminated)).toHaveLength(1);
  });

  test("pass on the sentence of a task that failed in its thread", async () => {
    const { readers } = readersOf((_, thread) => thread.answer({ kind: "failed", sentence: "Cutting a trace requires finite times" }));
    await expect(readers.run(read("a.csv"))).rejects.toThrow("Cutting a trace requires finite times");
  });

  test("read on this thread where a thread may not be made", async () => {
    const readers = createReaders({
      most: 2,
      start: () => {
        throw new Error("refused by a policy");
      },
    });
    const results = await Promise.all(["a.csv", "b.csv"].map((name) => readers.run(read(name))));
    expect(results.map((result: ReadResult) => result.trials.length)).toEqual([1, 1]);
  });

  test("read on this thread where the threads' script cannot be had, or never answers", async () => {
    const faulty = readersOf(works, { stands: () => false });
    const list = ["a.csv", "b.csv", "c.csv"].map((name) => faulty.readers.run(read(name)));
    faulty.threads[0].crash();
    expect((await Promise.all(list)).map((result) => result.reading?.recording?.fileName)).toEqual(["a.csv", "b.csv", "c.csv"]);
    expect(faulty.threads.every((thread) => thread.terminated)).toBe(true);
    const mute = readersOf(works, { stands: () => false, startPatience: 5 });
    expect((await mute.readers.run(read("a.csv"))).trials).toHaveLength(1);
  });

  test("make do with the thread that stands where another does not", async () => {
    const { readers, threads } = readersOf(works, { stands: (place) => place === 0, startPatience: 5 });
    const results = await Promise.all(["a.csv", "b.csv", "c.csv", "d.csv"].map((name) => readers.run(read(name))));
    expect(results.map((result) => result.trials.length)).toEqual([1, 1, 1, 1]);
    expect(threads).toHaveLength(2);
    expect(readers.atOnce).toBe(1);
  });

  test("cancel on this thread between two files", async () => {
    const { readers } = readersOf(works, { stands: () => false, startPatience: 1 });
    await readers.run(read("a.csv"));
    const controller = new AbortController();
    const list = ["b.csv", "c.csv"].map((name) => readers.run(read(name), controller.signal));
    controller.abort();
    expect((await Promise.allSettled(list)).map((end) => end.status)).toEqual(["rejected", "rejected"]);
  });
});
