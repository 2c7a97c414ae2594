import { createContext, useContext } from "react";
import type { Applied, CellRef } from "../host/SheetHost.ts";
import type { PaneServices } from "../workbook/WorkbookModel.ts";

export { sentenceOf } from "./sentenceOf.ts";

export type View = "plan" | "bringIn" | "trials" | "decide" | "explain" | "settings" | "teach" | "about";

export interface Message {
  readonly kind: "done" | "problem";
  readonly text: string;
  /** Present where the pane can take it back. */
  readonly applied?: Applied;
  /** Whether `applied` is an earlier step than the one that the text is about. */
  readonly again?: boolean;
}

/** What every view may ask of the pane around it. */
export interface PaneTools extends PaneServices {
  /** Shows a message at the foot of the pane; read out politely. */
  say(message: Message): void;
  /** Does something to the sheet; a failure becomes its sentence at the foot of the pane. Tells whether it went well. */
  perform(action: () => Promise<Applied | undefined | void>, done: string): Promise<boolean>;
  go(view: View): void;
  /** Opens the plot of a trial in the Trials view. */
  openTrial(key: string): void;
  showCell(cell: CellRef): Promise<void>;
}

export const PaneContext = createContext<PaneTools | undefined>(undefined);

export function usePane(): PaneTools {
  const tools = useContext(PaneContext);
  if (tools === undefined) throw new Error("usePane requires a Pane around it");
  return tools;
}
