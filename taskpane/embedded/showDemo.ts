import type { SheetHost } from "../host/SheetHost.ts";
import { DEMO_DATE, demoAthletes, demoRecord, demoTrials } from "../workbook/demoSession.ts";
import { record } from "../workbook/record.ts";
import { athletesEdits, SHEET } from "../workbook/sheets.ts";
import type { WorkbookModel } from "../workbook/WorkbookModel.ts";

/** Fills a fresh workbook with the invented demo session and shows its results. */
export async function showDemo(host: SheetHost, workbook: WorkbookModel): Promise<void> {
  const blank = await host.sheets();
  await host.apply(athletesEdits(demoAthletes()), { label: "Demo squad" });
  await workbook.addTrials(demoTrials(), { label: "Demo session" });
  await record(host, demoRecord(), new Date(`${DEMO_DATE}T08:00:00Z`));
  await host.apply(
    blank.map((sheet) => ({ kind: "deleteSheet", sheet }) as const),
    { label: "Blank sheet" },
  );
  await host.select({ sheet: SHEET.results, row: 1, column: 0 });
}
