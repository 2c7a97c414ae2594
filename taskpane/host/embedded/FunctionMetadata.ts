/** The part of `functions.json` that a host needs to call a function. */
export interface FunctionMetadata {
  readonly id: string;
  readonly name: string;
  readonly description?: string;
  readonly helpUrl?: string;
  readonly parameters: readonly ParameterMetadata[];
  readonly result?: { readonly dimensionality?: "scalar" | "matrix"; readonly type?: string };
  readonly options?: { readonly requiresAddress?: boolean };
}

export interface ParameterMetadata {
  readonly name: string;
  readonly description?: string;
  readonly type?: "any" | "number" | "string" | "boolean";
  readonly dimensionality?: "scalar" | "matrix";
  readonly optional?: boolean;
  readonly repeating?: boolean;
}

/** What a function sees last: where it is called from, as in Excel. */
export interface Invocation {
  readonly address: string;
  readonly functionName: string;
}

export type LeapFunction = (...args: any[]) => unknown;
