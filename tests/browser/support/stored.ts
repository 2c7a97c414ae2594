import type { Page } from "playwright-core";

/** A record of the stored workbook: its head under `current`, its parts, the workbook that was open before. */
export interface StoredRecord {
  readonly id: string;
  // Whatever a test looks at or breaks.
  [field: string]: any;
}

/** Works on the stored workbook behind the page's back: gives all entries as they were before, and stores those that are given. */
const access = (page: Page, kind: "workbooks" | "texts", put: readonly StoredRecord[] = []): Promise<any[]> =>
  page.evaluate(
    ({ kind: name, records }) =>
      new Promise<any[]>((resolve, reject) => {
        const request = indexedDB.open("leapsheet");
        request.onerror = () => reject(request.error);
        request.onsuccess = () => {
          const change = request.result.transaction(name, "readwrite");
          const store = change.objectStore(name);
          const all = store.getAll();
          all.onsuccess = () => {
            for (const record of records) store.put(record);
          };
          change.onabort = () => reject(change.error);
          change.oncomplete = () => {
            request.result.close();
            resolve(all.result);
          };
        };
      }),
    { kind, records: put },
  );

/** All records of the stored workbook. */
export const storedRecords = (page: Page): Promise<StoredRecord[]> => access(page, "workbooks");

/** All long texts that are stored. */
export const storedTexts = (page: Page): Promise<string[]> => access(page, "texts");

/** One record; fails where there is none. */
export async function storedRecord(page: Page, id = "current"): Promise<StoredRecord> {
  const found = (await storedRecords(page)).find((record) => record.id === id);
  if (!found) throw new Error(`nothing is stored as ${id}`);
  return found;
}

/** Stores records in the place of those of the same id. */
export const putRecords = async (page: Page, records: readonly StoredRecord[]): Promise<void> => void (await access(page, "workbooks", records));

/** What a part of the spreadsheet stores beside the cells, by the name of the part; what is not saved yet is saved first. */
export async function storedResource(page: Page, name: string): Promise<any> {
  await page.evaluate(() => window.leapsheet!.save());
  const resources: { name: string; data: string }[] = (await storedRecord(page)).saved.workbook.resources;
  return JSON.parse(resources.find((resource) => resource.name === name)?.data || "{}");
}

/** Texts of the pictures on each sheet, by the name of the sheet, in the order of drawing. */
export async function storedPictures(page: Page): Promise<Record<string, string[]>> {
  const drawings = (await storedResource(page, "SHEET_DRAWING_PLUGIN")) as Record<string, { data: Record<string, { description: string }>; order: string[] }>;
  const { sheets } = (await storedRecord(page)).saved.workbook as { sheets: Record<string, { name: string }> };
  return Object.fromEntries(Object.entries(drawings).flatMap(([id, { data, order }]) => (sheets[id] && order.length > 0 ? [[sheets[id].name, order.map((drawing) => data[drawing]!.description)]] : [])));
}
