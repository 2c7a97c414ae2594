import type { ImportRecipe } from "../src/read/ImportRecipe.ts";
import { isZip } from "../src/read/isZip.ts";
import type { ColumnMemory } from "../src/read/NumberTable.ts";
import { readRecording } from "../src/read/readRecording.ts";
import type { Recording } from "../src/read/Recording.ts";
import type { PlateRole, Trace } from "../src/trace/Trace.ts";
import type { Options } from "./options.ts";
import { readBytes } from "./readBytes.ts";
import { toldOf } from "./toldOf.ts";

/** What a file holds, or why it could not be read. Plain data, which passes between threads. */
export type ReadFile = { readonly file: string; readonly trace: Trace; readonly warnings: readonly string[] } | { readonly file: string; readonly error: string };

/**
 * Reads one file. Never throws. Only of a workbook the answer comes later.
 *
 * @param memory Where the columns of a text are put, unless they are kept as samples: the trace lasts as long as they do.
 */
export function readFile(file: string, options: Options, memory: ColumnMemory): ReadFile | Promise<ReadFile> {
  const failed = (error: unknown): ReadFile => ({ file, error: toldOf(error) });
  const done = (recording: Recording): ReadFile => ({ file, trace: recording.trace(), warnings: recording.warnings });
  try {
    const recipe = recipeOf(options);
    const bytes = readBytes(file);
    if (isZip(bytes)) return readWorkbook(bytes.slice(), file, recipe).then(done).catch(failed);
    return done(readRecording(bytes, file, recipe, options.samples === undefined ? memory : undefined));
  } catch (error) {
    return failed(error);
  }
}

/** The reader of workbooks is loaded only where there is one: it takes longer to load than a text takes to read. */
async function readWorkbook(bytes: Uint8Array, file: string, recipe: ImportRecipe): Promise<Recording> {
  const { openRecording } = await import("../src/read/openRecording.ts");
  return openRecording(bytes, file, recipe);
}

const recipes = new WeakMap<Options, ImportRecipe>();

/** What the options say of every file, made once. */
function recipeOf(options: Options): ImportRecipe {
  let recipe = recipes.get(options);
  if (recipe === undefined) {
    const { time, ...forces } = options.columns ?? {};
    const sources = Object.entries(forces).map(([role, column]) => ({ role: role as PlateRole, column }));
    recipe = {
      ...(options.rate === undefined ? {} : { rate: options.rate }),
      ...(time === undefined ? {} : { time }),
      ...(sources.length === 0 ? {} : { forces: sources }),
      ...(options.invert ? { invert: true } : {}),
    };
    recipes.set(options, recipe);
  }
  return recipe;
}
