/** What kind of thing was wrong; the boundary of the cell functions maps `not-available` to #N/A and the rest to #VALUE!. */
export type InputErrorCode =
  | "not-a-number"
  | "out-of-range"
  | "wrong-shape"
  | "unknown-name"
  | "not-available"
  | "damaged"
  | "too-large"
  | "not-recognised";

/**
 * The one deliberate error of the project: the input cannot be used.
 *
 * The message is one sentence a coach understands, without a full stop:
 * `<thing> requires <condition>`. `where` says the place (a row, a column, a file).
 */
export class InputError extends Error {
  override readonly name = "InputError";
  constructor(
    readonly code: InputErrorCode,
    message: string,
    readonly where?: string,
  ) {
    super(message);
  }
}
