import type { DecimalMark } from "./ImportRecipe.ts";

const NUMBER: Readonly<Record<DecimalMark, RegExp>> = {
  ".": /^(?:[-+]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][-+]?[0-9]+)?|[0-9]{1,2}:[0-5]?[0-9](?::[0-5]?[0-9](?:\.[0-9]+)?|\.[0-9]+))$/,
  ",": /^(?:[-+]?(?:[0-9]+(?:,[0-9]+)?|,[0-9]+)(?:[eE][-+]?[0-9]+)?|[0-9]{1,2}:[0-5]?[0-9](?::[0-5]?[0-9](?:,[0-9]+)?|,[0-9]+))$/,
};

/**
 * Whether a field holds a number, in the same sense as `numberInBytes`.
 *
 * @param field Text of the field, no unit.
 * @param decimal Decimal mark, no unit.
 */
export function isNumberText(field: string, decimal: DecimalMark): boolean {
  return field.length < 400 && NUMBER[decimal].test(field);
}
