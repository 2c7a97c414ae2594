import type { ColumnMemory } from "../src/read/NumberTable.ts";

/** Longer columns get memory of their own, values. */
const LONGEST = 2 ** 19;

const columns: Float64Array[] = [];

/** Memory for the columns of one file, the same at every call: a folder of recordings then needs the memory of one, and nothing has to be freed. */
export function reusedColumns(): ColumnMemory {
  let used = 0;
  return {
    column(length) {
      if (length > LONGEST) return new Float64Array(length);
      const at = used++;
      let column = columns[at];
      if (column === undefined || column.length < length) columns[at] = column = new Float64Array(Math.min(LONGEST, 2 * length));
      return column.subarray(0, length);
    },
  };
}

/** Memory for columns one after another in a piece that threads share; memory of its own for what finds no room. */
export function columnsIn(memory: SharedArrayBuffer): ColumnMemory {
  let used = 0;
  return {
    column(length) {
      if (8 * (used + length) > memory.byteLength) return new Float64Array(length);
      const column = new Float64Array(memory, 8 * used, length);
      used += length;
      return column;
    },
  };
}
