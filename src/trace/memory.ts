/** Gives a column of numbers to write into. What stands in it is not defined: whoever takes it writes every place. */
export type Take = (length: number) => Float64Array;

/** Memory of one's own, for what is kept. */
export const ownMemory: Take = (length) => new Float64Array(length);

/** Numbers that are used again for trial after trial; longer columns get memory of their own, so that little is held for good. */
const REUSED = 1 << 18;

/**
 * Memory for the columns of one trial after another: new memory costs more than its filling. Whoever begins a trial calls
 * `restart`; the columns of the trial before are gone then.
 *
 * @returns The two functions.
 */
export function reusedMemory(): { readonly restart: () => void; readonly take: Take } {
  let memory: ArrayBuffer | undefined;
  let used = 0;
  return {
    restart: () => {
      used = 0;
    },
    take: (length) => {
      if (used + length > REUSED) return new Float64Array(length);
      memory ??= new ArrayBuffer(8 * REUSED);
      const column = new Float64Array(memory, 8 * used, length);
      used += length;
      return column;
    },
  };
}
