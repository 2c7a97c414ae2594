import { InputError } from "../src/errors.ts";

/** What a person is told of an error. */
export function toldOf(error: unknown): string {
  if (error instanceof InputError) return error.where ? `${error.message} (${error.where})` : error.message;
  return `unexpected: ${(error as Error).message}`;
}
