import { fillTemplate } from "../src/wording/fillTemplate.ts";
import { pageTextsOf } from "../src/wording/pageTextsOf.ts";
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
  setLanguage(languageFor([Office.context.displayLanguage, ...navigator.languages]));
  const opening = document.getElementById("opening")!;
  if (host !== Office.HostType.Excel) {
    opening.textContent = pageTextsOf().opening.notInExcel;
    return;
  }
  const missing = NEEDED.find(([set, version]) => !Office.context.requirements.isSetSupported(set, version));
  if (missing) {
    opening.textContent = fillTemplate(pageTextsOf().opening.excelTooOld, { lacks: missing.join(" ") });
    return;
  }
  opening.remove();
  const sheet = createOfficeHost(Excel);
  mountPane(document.getElementById("pane")!, { host: sheet, workbook: createWorkbookModel(sheet) });
});
