import { useEffect, useState } from "react";
import { explainCell, type CellExplanation } from "../explain/explainCell.ts";
import type { CellRef } from "../host/SheetHost.ts";
import { sentenceOf, usePane } from "./PaneContext.tsx";

export interface ExplanationState {
  readonly cell?: CellRef;
  readonly explanation?: CellExplanation;
  readonly problem?: string;
  /** The cell that is being worked out, where that takes a while. */
  readonly working?: CellRef;
}

/** What the selected cell says, following the selection and every change of the sheet. */
export function useExplanation(): ExplanationState {
  const { host } = usePane();
  const [state, setState] = useState<ExplanationState>({});

  useEffect(() => {
    let run = 0;
    const show = async (cell: CellRef | undefined): Promise<void> => {
      const mine = ++run;
      if (cell === undefined) {
        setState({});
        return;
      }
      const slow = setTimeout(() => mine === run && setState((before) => ({ ...before, working: cell })), 400);
      try {
        const explanation = await explainCell(host, cell);
        if (mine === run) setState({ cell, explanation });
      } catch (thrown) {
        if (mine === run) setState({ cell, problem: sentenceOf(thrown) });
      } finally {
        clearTimeout(slow);
      }
    };
    let selected: CellRef | undefined;
    const stopSelection = host.onSelection((cell) => {
      selected = cell;
      void show(cell);
    });
    let timer: ReturnType<typeof setTimeout> | undefined;
    const stopChange = host.onChange(() => {
      clearTimeout(timer);
      timer = setTimeout(() => void show(selected), 150);
    });
    void host.selection().then(
      (cell) => {
        if (selected !== undefined) return undefined;
        selected = cell;
        return show(cell);
      },
      () => undefined,
    );
    return () => {
      run = -1;
      clearTimeout(timer);
      stopSelection();
      stopChange();
    };
  }, [host]);

  return state;
}
