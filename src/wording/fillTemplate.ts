/**
 * A sentence from a template: `{key}` becomes the value, `{key:2}` the number with two decimals, `{key*100:1}` the number
 * times 100 with one decimal; a part in `[ ]` is left out where one of its values is missing.
 *
 * @param template Template, no unit.
 * @param values Values by key, in the units that the template prints after them.
 * @param decimalMark What stands before the decimals of a number, no unit; a point where it is left out.
 * @returns The sentence, no unit; a missing value outside `[ ]` reads "an unknown value".
 */
export function fillTemplate(template: string, values: Readonly<Record<string, number | string | undefined>>, decimalMark = "."): string {
  const optional = template.replace(/\[([^\]]*)\]/g, (_, part: string) => (keysOf(part).every((key) => present(values[key])) ? part : ""));
  return optional.replace(PLACE, (_, key: string, factor: string | undefined, decimals: string | undefined) => {
    const value = values[key];
    if (!present(value)) return "an unknown value";
    if (typeof value === "string") return value;
    const scaled = value * (factor === undefined ? 1 : Number(factor));
    return (decimals === undefined ? plainNumber(scaled) : withoutMinusZero(scaled.toFixed(Number(decimals)))).replace(".", decimalMark);
  });
}

/** The keys that a template names, each once. */
export function keysOf(template: string): readonly string[] {
  return [...new Set([...template.matchAll(PLACE)].map((match) => match[1]!))];
}

const PLACE = /\{(\w+)(?:\*([\d.]+))?(?::(\d))?\}/g;

const present = (value: number | string | undefined): value is number | string => value !== undefined && value !== "" && !Number.isNaN(value);

const withoutMinusZero = (text: string): string => (/^-0(\.0*)?$/.test(text) ? text.slice(1) : text);

/** A number as few digits as say it: at most four significant ones, no exponent. */
function plainNumber(value: number): string {
  if (Number.isInteger(value)) return String(value);
  return withoutMinusZero(String(Number(value.toPrecision(4))));
}
