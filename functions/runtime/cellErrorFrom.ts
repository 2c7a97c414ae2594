import { InputError } from "../../src/errors.ts";
import { inLanguage } from "../../src/wording/inLanguage.ts";
import { CellError } from "./CellError.ts";

/**
 * The one place where anything thrown becomes an error a cell can show: `#N/A` for what the data
 * cannot give, `#VALUE!` for a wrong argument, always with a sentence.
 */
export function cellErrorFrom(thrown: unknown): CellError {
  if (thrown instanceof CellError) return thrown;
  if (thrown instanceof InputError) {
    const said = inLanguage(thrown.message);
    const message = thrown.where === undefined || thrown.message.includes(thrown.where) ? said : `${said} (${inLanguage(thrown.where)})`;
    return new CellError(thrown.code === "not-available" ? "#N/A" : "#VALUE!", message);
  }
  const detail = thrown instanceof Error ? thrown.message : String(thrown);
  return new CellError("#VALUE!", `this function stopped on a fault of its own, please report it: ${detail}`);
}
