import type { RangeRef, SheetHost } from "../host/SheetHost.ts";
import { findResults } from "./findParts.ts";
import { RESULT_BLOCK } from "./sheets.ts";

/** How many formulas of Results were computed afresh, of how many. */
export interface BlocksDone {
  readonly done: number;
  readonly all: number;
}

/** The formulas of Results in blocks that a spreadsheet computes one at a time; none where there is no such sheet. */
export async function resultBlocks(host: SheetHost): Promise<readonly RangeRef[]> {
  const results = await findResults(host);
  if (!results) {
    return [];
  }
  const { sheet, row, column } = results.head;
  const used = await host.usedRange(sheet);
  const last = used ? used.row + used.rows : 0;
  const blocks: RangeRef[] = [];
  for (let from = row + 1; from < last; from += RESULT_BLOCK) {
    blocks.push({ sheet, row: from, column, rows: Math.min(RESULT_BLOCK, last - from), columns: 1 });
  }
  return blocks;
}

/**
 * Computes Results afresh block by block, the next one only when nothing of the last is pending: what a spreadsheet cannot do at once it can
 * often do in parts. Stops when it is told to, without waiting for the block at hand; what was computed stays.
 */
export async function recalculateInBlocks(host: SheetHost, { signal, onProgress }: { readonly signal?: AbortSignal; readonly onProgress?: (progress: BlocksDone) => void } = {}): Promise<BlocksDone> {
  const blocks = await resultBlocks(host);
  const all = blocks.reduce((sum, { rows }) => sum + rows, 0);
  let done = 0;
  onProgress?.({ done, all });
  for (const block of blocks) {
    if (signal?.aborted) {
      break;
    }
    await host.recalculate([block]);
    await Promise.race([host.settled(), aborted(signal)]);
    if (signal?.aborted) {
      break;
    }
    done += block.rows;
    onProgress?.({ done, all });
  }
  return { done, all };
}

function aborted(signal: AbortSignal | undefined): Promise<void> {
  return new Promise((resolve) => signal?.addEventListener("abort", () => resolve(), { once: true }));
}
