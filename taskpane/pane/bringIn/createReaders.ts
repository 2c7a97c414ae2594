import { carryOut, type ReadResult, type ReadTask } from "./carryOut.ts";
import { words } from "../words.ts";

export type ReaderAnswer = { readonly kind: "ready" } | { readonly kind: "done"; readonly result: ReadResult } | { readonly kind: "failed"; readonly sentence: string };

/** What is needed of a `Worker`. */
export interface ReaderThread {
  postMessage(task: ReadTask): void;
  terminate(): void;
  onmessage: ((event: MessageEvent<ReaderAnswer>) => void) | null;
  onmessageerror: ((event: MessageEvent) => void) | null;
  onerror: ((event: ErrorEvent) => void) | null;
}

/** A few threads that read files, each one file at a time. */
export interface Readers {
  /** Tasks that are worked on at once. */
  readonly atOnce: number;
  /**
   * Carries out a task in a thread, or on this one where threads cannot start.
   *
   * @throws {Error} A sentence for the person; an `AbortError` once `signal` is aborted, which ends the thread in the middle of its work.
   */
  run(task: ReadTask, signal?: AbortSignal): Promise<ReadResult>;
  /** Ends the threads; they start again with the next task. */
  end(): void;
}

export interface ReadersOptions {
  readonly start: () => ReaderThread;
  /** Most threads. */
  readonly most?: number;
  /** A thread that says nothing for this long after its start is given up, ms. */
  readonly startPatience?: number;
  /** Threads without work end after this, ms: their memory is the page's. */
  readonly rest?: number;
}

const MOST = 2;
const START_PATIENCE = 8000;
const REST = 5000;
/** Longest stretch of work on this thread before the page gets to answer, ms. */
const STRETCH = 12;

export function createReaders({ start, most = Math.min(MOST, globalThis.navigator?.hardwareConcurrency ?? MOST), startPatience = START_PATIENCE, rest = REST }: ReadersOptions): Readers {
  return new ThreadedReaders(start, most, startPatience, rest);
}

interface Job {
  readonly task: ReadTask;
  readonly signal?: AbortSignal;
  /** Ends it one way or the other, once. */
  readonly finish: (settle: (resolve: (result: ReadResult) => void, reject: (error: Error) => void) => void) => void;
}

interface Reader {
  readonly thread: ReaderThread;
  job?: Job;
  ready: boolean;
  patience?: ReturnType<typeof setTimeout>;
}

class ThreadedReaders implements Readers {
  private readonly waiting: Job[] = [];
  private readonly readers: Reader[] = [];
  /** Threads cannot start here: the host of the page forbids them, or their script cannot be had. */
  private refused = false;
  private working = false;
  private resting?: ReturnType<typeof setTimeout>;

  constructor(
    private readonly start: () => ReaderThread,
    private most: number,
    private readonly startPatience: number,
    private readonly rest: number,
  ) {}

  get atOnce(): number {
    return this.most;
  }

  run(task: ReadTask, signal?: AbortSignal): Promise<ReadResult> {
    return new Promise((resolve, reject) => {
      if (signal?.aborted === true) {
        reject(cancelled());
        return;
      }
      const stop = (): void => this.drop(job);
      const job: Job = {
        task,
        signal,
        finish(settle) {
          signal?.removeEventListener("abort", stop);
          settle(resolve, reject);
        },
      };
      signal?.addEventListener("abort", stop);
      clearTimeout(this.resting);
      this.waiting.push(job);
      this.next();
    });
  }

  end(): void {
    clearTimeout(this.resting);
    for (const reader of [...this.readers]) {
      this.dismiss(reader);
      reader.job?.finish((_, reject) => reject(cancelled()));
    }
    for (const job of this.waiting.splice(0)) job.finish((_, reject) => reject(cancelled()));
  }

  /** Gives waiting tasks to idle threads, starting threads while there may be more. */
  private next(): void {
    while (this.waiting.length > 0) {
      if (this.refused) {
        void this.workHere();
        return;
      }
      const reader = this.readers.find((candidate) => candidate.job === undefined) ?? (this.readers.length < this.most ? this.startReader() : undefined);
      if (reader === undefined) {
        if (this.readers.length > 0) return;
        this.refused = true;
        continue;
      }
      const job = this.waiting.shift()!;
      reader.job = job;
      reader.thread.postMessage(job.task);
    }
  }

  private startReader(): Reader | undefined {
    let thread: ReaderThread;
    try {
      thread = this.start();
    } catch {
      return undefined;
    }
    const reader: Reader = { thread, ready: false };
    reader.patience = setTimeout(() => this.fail(reader), this.startPatience);
    thread.onmessage = ({ data }) => this.hear(reader, data);
    thread.onmessageerror = () => this.fail(reader);
    thread.onerror = (event) => {
      event.preventDefault();
      this.fail(reader);
    };
    this.readers.push(reader);
    return reader;
  }

  private hear(reader: Reader, answer: ReaderAnswer): void {
    clearTimeout(reader.patience);
    reader.ready = true;
    const { job } = reader;
    if (answer.kind === "ready" || job === undefined) return;
    reader.job = undefined;
    // The thread has its next file before this one is looked at.
    this.next();
    if (this.readers.every((other) => other.job === undefined)) this.resting = setTimeout(() => this.end(), this.rest);
    job.finish((resolve, reject) => (answer.kind === "done" ? resolve(answer.result) : reject(new Error(answer.sentence))));
  }

  /** A thread that broke over its file, or one that never stood: then its file is given to another, or read here. */
  private fail(reader: Reader): void {
    this.dismiss(reader);
    const { job } = reader;
    if (reader.ready) job?.finish((_, reject) => reject(new Error(words.bringIn.threadFault)));
    else {
      if (job !== undefined) this.waiting.unshift(job);
      // One that stands is enough; another is not tried again.
      if (this.readers.some(({ ready }) => ready)) this.most = this.readers.length;
      else this.refuse();
    }
    this.next();
  }

  /** No thread stood: what the others hold is read here as well. */
  private refuse(): void {
    this.refused = true;
    for (const reader of [...this.readers]) {
      this.dismiss(reader);
      if (reader.job !== undefined) this.waiting.unshift(reader.job);
    }
  }

  /** A task is no longer wanted: its thread ends in the middle of it. */
  private drop(job: Job): void {
    const place = this.waiting.indexOf(job);
    if (place >= 0) this.waiting.splice(place, 1);
    const reader = this.readers.find((candidate) => candidate.job === job);
    if (reader !== undefined) this.dismiss(reader);
    job.finish((_, reject) => reject(cancelled()));
    this.next();
  }

  private dismiss(reader: Reader): void {
    clearTimeout(reader.patience);
    const place = this.readers.indexOf(reader);
    if (place < 0) return;
    this.readers.splice(place, 1);
    const { thread } = reader;
    thread.onmessage = thread.onmessageerror = thread.onerror = null;
    thread.terminate();
  }

  /** On this thread, in stretches, so that the page gets to answer. */
  private async workHere(): Promise<void> {
    if (this.working) return;
    this.working = true;
    let rested = performance.now();
    for (let job = this.waiting.shift(); job !== undefined; job = this.waiting.shift()) {
      const { task, finish } = job;
      await carryOut(task).then(
        (result) => finish((resolve) => resolve(result)),
        (error: Error) => finish((_, reject) => reject(error)),
      );
      if (performance.now() - rested > STRETCH) {
        await new Promise((resolve) => setTimeout(resolve));
        rested = performance.now();
      }
    }
    this.working = false;
  }
}

function cancelled(): Error {
  return new DOMException("cancelled", "AbortError");
}
