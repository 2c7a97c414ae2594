import { LocaleType, LogLevel, mergeLocales, Univer, type IWorkbookData } from "@univerjs/core";
import { FUniver } from "@univerjs/core/facade";
import { CalculationMode, UniverSheetsCorePreset } from "@univerjs/preset-sheets-core";
import coreWords from "@univerjs/preset-sheets-core/locales/en-US";
import { UniverSheetsDrawingPreset } from "@univerjs/preset-sheets-drawing";
import drawingWords from "@univerjs/preset-sheets-drawing/locales/en-US";
import { UniverSheetsFilterPlugin } from "@univerjs/sheets-filter";
import { UniverSheetsFilterUIPlugin } from "@univerjs/sheets-filter-ui";
import filterWords from "@univerjs/sheets-filter-ui/locale/en-US";
import { UniverSheetsSortPlugin } from "@univerjs/sheets-sort";
import { UniverSheetsSortUIPlugin } from "@univerjs/sheets-sort-ui";
import sortWords from "@univerjs/sheets-sort-ui/locale/en-US";
import { UniverSheetsTablePlugin } from "@univerjs/sheets-table";
import tableWords from "@univerjs/sheets-table/locale/en-US";
import { UniverSheetsTableUIPlugin } from "@univerjs/sheets-table-ui";
import tablePanelWords from "@univerjs/sheets-table-ui/locale/en-US";
import type { FunctionMetadata, LeapFunction } from "./FunctionMetadata.ts";
import { functionClass, functionDescription, type ErrorSentences } from "./functionClass.ts";
import { keepOwnRows } from "./keepOwnRows.ts";
import { tuneEngine } from "./tuneEngine.ts";
import "@univerjs/preset-sheets-core/lib/index.css";
import "@univerjs/preset-sheets-drawing/lib/index.css";
import "@univerjs/sheets-filter-ui/lib/index.css";
import "@univerjs/sheets-sort-ui/lib/index.css";
import "@univerjs/sheets-table-ui/lib/index.css";

/** Every cell function is `LEAP.` and its name. */
export const NAMESPACE = "LEAP";

/** One of our functions: what `functions.json` says of it, and the code. */
export interface SheetFunction {
  readonly metadata: FunctionMetadata;
  readonly run: LeapFunction;
}

/** Starts the spreadsheet inside an element, our functions known to it before the workbook opens; `computed`: what its formulas gave still holds. */
export function createUniver(container: HTMLElement, functions: readonly SheetFunction[], sentences: ErrorSentences, workbook: Partial<IWorkbookData>, computed: boolean) {
  const named = functions.map(({ metadata, run }) => ({ metadata, run, name: `${NAMESPACE}.${metadata.name}` }));
  const core = UniverSheetsCorePreset({
    container,
    disableAutoFocus: true,
    sheets: { disableForceStringMark: true, disableForceStringAlert: true },
    formula: {
      function: named.map(({ metadata, run, name }) => [functionClass(metadata, name, run, sentences), name]),
      description: named.map(({ metadata, name }) => functionDescription(metadata, name)),
      initialFormulaComputing: computed ? CalculationMode.NO_CALCULATION : CalculationMode.FORCED,
    },
  } as any);
  const univer = new Univer({ logLevel: LogLevel.WARN, locale: LocaleType.EN_US, locales: { [LocaleType.EN_US]: mergeLocales(coreWords, drawingWords, tableWords, tablePanelWords, filterWords, sortWords) } });
  const plugins = new Map<string, [any, any]>();
  for (const plugin of [...core.plugins, ...UniverSheetsDrawingPreset().plugins, UniverSheetsTablePlugin, UniverSheetsFilterPlugin, UniverSheetsFilterUIPlugin, UniverSheetsSortPlugin, UniverSheetsSortUIPlugin, [UniverSheetsTableUIPlugin, { hideAnchor: true }]]) {
    const [constructor, options] = Array.isArray(plugin) ? plugin : [plugin, undefined];
    plugins.set((constructor as any).pluginName, [constructor, options]);
  }
  for (const [constructor, options] of plugins.values()) univer.registerPlugin(constructor, options);
  const api = FUniver.newAPI(univer);
  api.createWorkbook(workbook);
  tuneEngine(univer.__getInjector());
  keepOwnRows(univer.__getInjector());
  return { univer, api };
}
