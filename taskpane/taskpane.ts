import { languageFor, setLanguage } from "../src/wording/textsOf.ts";
import { createOfficeHost } from "./host/createOfficeHost.ts";
import { mountPane } from "./mountPane.tsx";
import { createWorkbookModel } from "./workbook/createWorkbookModel.ts";
import "./taskpane.css";

/** What the add-in needs of Excel; the manifest names the same. */
const NEEDED = [
  ["SharedRuntime", "1.1"],
  ["CustomFunctionsRuntime", "1.3"],
  ["ExcelApi", "1.14"],
] as const;

void Office.onReady(({ host }) => {
  const opening = document.getElementById("opening")!;
  if (host !== Office.HostType.Excel) {
    opening.textContent = "This page is the side pane of an Excel add-in; it opens inside Excel. Without Excel, use the page with the embedded sheet.";
    return;
  }
  const missing = NEEDED.find(([set, version]) => !Office.context.requirements.isSetSupported(set, version));
  if (missing) {
    opening.textContent = `This Excel lacks ${missing.join(" ")}, which Leapsheet needs. It runs in Excel on the web, Microsoft 365, and Excel 2021 or later on Windows and Mac.`;
    return;
  }
  opening.remove();
  setLanguage(languageFor([Office.context.displayLanguage, ...navigator.languages]));
  const sheet = createOfficeHost(Excel);
  mountPane(document.getElementById("pane")!, { host: sheet, workbook: createWorkbookModel(sheet) });
});
