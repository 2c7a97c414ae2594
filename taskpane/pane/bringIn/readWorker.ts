import { sentenceOf } from "../sentenceOf.ts";
import { carryOut, type ReadTask } from "./carryOut.ts";
import type { ReaderAnswer } from "./createReaders.ts";
import { samplesOf } from "./samplesOf.ts";

/** Files are read here, away from the page: the page answers meanwhile, and a hostile file hurts only this thread. */
addEventListener("message", ({ data }: MessageEvent<ReadTask>) => {
  carryOut(data).then(
    (result) => postMessage({ kind: "done", result } satisfies ReaderAnswer, { transfer: samplesOf(result) }),
    (thrown: unknown) => postMessage({ kind: "failed", sentence: sentenceOf(thrown) } satisfies ReaderAnswer),
  );
});
postMessage({ kind: "ready" } satisfies ReaderAnswer);
