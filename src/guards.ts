import { InputError } from "./errors.ts";

/** Refuses anything that is not a finite number. `thing` names the quantity asked for, for instance "jump height". */
export function requireFinite(thing: string, ...values: readonly number[]): void {
  for (const value of values) {
    if (typeof value !== "number" || !Number.isFinite(value)) {
      throw new InputError("not-a-number", `${thing} requires finite numbers`);
    }
  }
}

/** Refuses lists that hold anything but finite numbers; for lists of any length. */
export function requireAllFinite(thing: string, ...lists: readonly (readonly number[])[]): void {
  for (const list of lists) for (const value of list) requireFinite(thing, value);
}

/** Refuses a value that is not finite and more than zero. `what` names the argument, for instance "a contact time". */
export function requireAboveZero(thing: string, what: string, value: number): void {
  requireFinite(thing, value);
  if (value <= 0) throw new InputError("out-of-range", `${thing} requires ${what} above zero`);
}

/** Refuses a value that is not finite and zero or more. */
export function requireZeroOrMore(thing: string, what: string, value: number): void {
  requireFinite(thing, value);
  if (value < 0) throw new InputError("out-of-range", `${thing} requires ${what} of zero or more`);
}

/** Refuses a confidence level that does not lie between 0 and 1, both ends excluded. */
export function requireLevel(thing: string, level: number): void {
  requireFinite(thing, level);
  if (level <= 0 || level >= 1) throw new InputError("out-of-range", `${thing} requires a level between 0 and 1, such as 0.95`);
}

/** Refuses a value that is not a whole number of at least `least`. */
export function requireCount(thing: string, what: string, value: number, least: number): void {
  requireFinite(thing, value);
  if (!Number.isInteger(value) || value < least) {
    throw new InputError("out-of-range", `${thing} requires ${what} as a whole number of at least ${least}`);
  }
}
