import { FUNCTIONS } from "./index.ts";
import { CellError } from "./runtime/CellError.ts";
import type { CellFunction } from "./runtime/boundary.ts";

/**
 * Gives the functions to Excel. `CustomFunctions.Error` and its codes exist only once Excel's own
 * script has loaded, so they are first touched when a function fails. Where Office.js itself could not be
 * loaded there is nobody to give them to, and the pane must still start.
 */
if (typeof CustomFunctions !== "undefined") {
  for (const [id, call] of FUNCTIONS) CustomFunctions.associate(id, forExcel(call));
}

function forExcel(call: CellFunction): (...args: any[]) => unknown {
  return (...args) => {
    try {
      const result = call(...args);
      return Array.isArray(result) ? result.map((row) => row.map(excelCell)) : result;
    } catch (thrown) {
      throw excelCell(thrown);
    }
  };
}

function excelCell(value: unknown): unknown {
  if (!(value instanceof CellError)) return value;
  const code = value.code === "#N/A" ? CustomFunctions.ErrorCode.notAvailable : CustomFunctions.ErrorCode.invalidValue;
  return new CustomFunctions.Error(code, value.message);
}
