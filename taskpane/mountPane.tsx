import { createRoot } from "react-dom/client";
import { Pane } from "./pane/Pane.tsx";
import type { PaneServices } from "./workbook/WorkbookModel.ts";
import "uplot/dist/uPlot.min.css";

/**
 * Shows the side pane in `element`.
 *
 * @returns Takes it away again.
 */
export function mountPane(element: HTMLElement, services: PaneServices): () => void {
  const root = createRoot(element);
  root.render(<Pane services={services} />);
  return () => root.unmount();
}
