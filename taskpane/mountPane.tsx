import { createRoot } from "react-dom/client";
import { spokenLanguage } from "../src/wording/textsOf.ts";
import { Pane } from "./pane/Pane.tsx";
import { speakWords } from "./pane/words.ts";
import type { PaneServices } from "./workbook/WorkbookModel.ts";
import "uplot/dist/uPlot.min.css";

/**
 * Shows the side pane in `element`, in the language that is spoken.
 *
 * @returns Takes it away again.
 */
export function mountPane(element: HTMLElement, services: PaneServices): () => void {
  speakWords(spokenLanguage());
  document.documentElement.lang = spokenLanguage();
  const root = createRoot(element);
  root.render(<Pane services={services} />);
  return () => root.unmount();
}
