/** What the metadata says of a cell function: the same words that Excel shows while a formula is typed. */
export interface FunctionHelp {
  readonly description: string;
  readonly parameters: readonly { readonly name: string; readonly description?: string }[];
}

let help: Promise<ReadonlyMap<string, FunctionHelp>> | undefined;

/** Help by function id, from the metadata file beside the page; empty where it cannot be had. */
export function functionHelp(): Promise<ReadonlyMap<string, FunctionHelp>> {
  help ??= load();
  return help;
}

async function load(): Promise<ReadonlyMap<string, FunctionHelp>> {
  try {
    const answer = await fetch("functions.json");
    if (!answer.ok) return new Map();
    const metadata = (await answer.json()) as { readonly functions: readonly (FunctionHelp & { readonly id: string })[] };
    return new Map(metadata.functions.map((each) => [each.id, each]));
  } catch {
    return new Map();
  }
}
