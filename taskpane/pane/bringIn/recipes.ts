import type { ImportRecipe } from "../../../src/read/ImportRecipe.ts";
import { recipeFrom } from "../../../src/read/recipeFrom.ts";
import type { Recording } from "../../../src/read/Recording.ts";
import type { Applied, Edit, SheetHost } from "../../host/SheetHost.ts";

const TABLE = "Recipes";
const COLUMNS = ["name", "columns", "recipe", "file names"] as const;

/** How files of one kind are read, remembered in the workbook. */
export interface RememberedRecipe {
  readonly name: string;
  /** The heads of the files it belongs to; see `headsOf`. */
  readonly heads: string;
  readonly recipe: ImportRecipe;
  /** Pattern of the file names; blank where none was built. */
  readonly pattern: string;
}

/** What tells one kind of file from another: its format and the names of its columns. */
export function headsOf(recording: Pick<Recording, "format" | "columns">): string {
  return `${recording.format}: ${recording.columns.map((column) => [column.group, column.name, column.unit].filter((text) => text !== undefined && text !== "").join(" ")).join(" | ")}`.slice(0, 2000);
}

/** The recipes of the workbook; rows that cannot be read are left out, so that a spoilt one does not keep files from being read. */
export async function rememberedRecipes(host: SheetHost): Promise<readonly RememberedRecipe[]> {
  const table = (await host.tables()).find((candidate) => candidate.name === TABLE);
  if (table === undefined || table.range.rows < 2) return [];
  const [content] = await host.read([{ ...table.range, row: table.range.row + 1, rows: table.range.rows - 1 }]);
  const at = (name: (typeof COLUMNS)[number]): number => table.columns.indexOf(name);
  return content.values.flatMap((cells): RememberedRecipe[] => {
    const [name, heads, recipe, pattern] = COLUMNS.map((column) => String(cells[at(column)] ?? ""));
    try {
      return name === "" ? [] : [{ name, heads, recipe: recipeFrom(JSON.parse(recipe)), pattern }];
    } catch {
      return [];
    }
  });
}

/** Writes a recipe into the workbook, in place of one of the same name. */
export async function rememberRecipe(host: SheetHost, recipe: RememberedRecipe): Promise<Applied> {
  const cells = [recipe.name, recipe.heads, JSON.stringify(recipe.recipe), recipe.pattern];
  const table = (await host.tables()).find((candidate) => candidate.name === TABLE);
  const edits: Edit[] = [];
  if (table === undefined) {
    edits.push({ kind: "addSheet", sheet: TABLE, rows: 100, columns: 8 }, { kind: "table", name: TABLE, sheet: TABLE, row: 0, column: 0, columns: [...COLUMNS], rows: [cells] }, { kind: "freezeRows", sheet: TABLE, rows: 1 }, { kind: "columns", sheet: TABLE, column: 0, count: 4, width: 200 });
  } else {
    const place = (await rememberedNames(host)).indexOf(recipe.name);
    if (place < 0) edits.push({ kind: "appendRows", table: TABLE, rows: [cells] });
    else edits.push({ kind: "cells", sheet: table.range.sheet, row: table.range.row + 1 + place, column: table.range.column, cells: [cells] });
  }
  return host.apply(edits, { label: `Recipe ${recipe.name}` });
}

async function rememberedNames(host: SheetHost): Promise<readonly string[]> {
  const table = (await host.tables()).find((candidate) => candidate.name === TABLE);
  if (table === undefined || table.range.rows < 2) return [];
  const [content] = await host.read([{ ...table.range, row: table.range.row + 1, rows: table.range.rows - 1, columns: 1 }]);
  return content.values.map((cells) => String(cells[0] ?? ""));
}
