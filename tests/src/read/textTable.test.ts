import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { textLayout } from "../../../src/read/textLayout.ts";
import { textTable } from "../../../src/read/textTable.ts";

const columns = (text: string, ...indexes: readonly number[]) => {
  const bytes = new TextEncoder().encode(text);
  return textTable(bytes, textLayout(bytes)).values(indexes).map((values) => [...values]);
};

describe("the number of lines is not known before they are read", () => {
  // Lines are long at the start, in the middle and at the end, where their length is looked at, and short between.
  const wide = (i: number) => `${(1000 + i / 7).toFixed(9)}${" ".repeat(40)},${i}`;
  const rows = Array.from({ length: 40_000 }, (_, i) => (i < 100 || (i >= 19_000 && i < 21_000) || i >= 39_900 ? wide(i) : `${i % 10},${i % 10}`));

  test.each(["\n", "\r\n", "\r"])("many more short lines than the long ones let expect are all read (%j)", (end) => {
    const [first, second] = columns(`a,b${end}${rows.join(end)}${end}`, 0, 1);
    expect(first).toEqual(rows.map((row) => Number(row.split(",")[0])));
    expect(second).toEqual(rows.map((row) => Number(row.split(",")[1])));
  });

  test("also where every field stands in quotes", () => {
    const quoted = rows.map((row) => row.split(",").map((field) => `"${field.trim()}"`).join(","));
    expect(columns(`"a","b"\n${quoted.join("\n")}`, 1)[0]).toEqual(rows.map((row) => Number(row.split(",")[1])));
  });

  test("one line is enough", () => {
    expect(columns("1.5,2.5\n", 0, 1)).toEqual([[1.5], [2.5]]);
  });
});

describe("every number is what Number makes of its text (ECMA-262, 7.1.4.1: the nearest double)", () => {
  const digits = (least: number, most: number) => fc.stringMatching(new RegExp(`^[0-9]{${least},${most}}$`));
  const usual = fc.tuple(fc.constantFrom("", "", "", "-"), digits(1, 5), digits(1, 8)).map(([sign, whole, part]) => `${sign}${whole}.${part}`);
  const other = fc.oneof(
    fc.tuple(fc.constantFrom("", "-", "+"), digits(0, 12), fc.constantFrom("", "."), digits(1, 12), fc.constantFrom("", "", "e3", "E-7")).map((parts) => parts.join("")),
    usual.map((text) => ` ${text}`),
    fc.constantFrom("7", "-0.000", "1e5", "0.1234567890123456789", "999999999.999999", "1234.", ".5"),
  );

  test.each([
    [",", "\n", "."],
    [";", "\r\n", ","],
    ["\t", "\r", "."],
    [" ", "\n", "."],
  ])("between %j, lines ending in %j, mark %j", (delimiter, end, mark) => {
    // Lines of equal decimals, as most files have them, and now and then anything else between them.
    const table = fc.tuple(fc.array(fc.nat(8), { minLength: 3, maxLength: 3 }), fc.array(fc.tuple(fc.array(fc.double({ min: -20_000, max: 20_000, noNaN: true }), { minLength: 3, maxLength: 3 }), fc.nat(9), fc.nat(2), fc.oneof(usual, other)), { minLength: 12, maxLength: 30 }));
    fc.assert(
      fc.property(table, fc.boolean(), ([decimals, lines], ended) => {
        const rows = lines.map(([numbers, odd, place, text]) => numbers.map((value, i) => (odd === 0 && i === place ? text.trim() : value.toFixed(decimals[i]))));
        const text = rows.map((row) => row.join(delimiter).replaceAll(".", mark)).join(end) + (ended ? end : "");
        const bytes = new TextEncoder().encode(text);
        const layout = textLayout(bytes, { delimiter: ({ ",": "comma", ";": "semicolon", "\t": "tab", " ": "spaces" } as const)[delimiter as ","], decimal: mark as ".", headerLines: 0 });
        // "12," with a decimal comma is rather a field and a delimiter than a number: such lines are left to the tests of `numberInBytes`.
        fc.pre(layout.fields === 3 && !(mark === "," && rows.flat().some((field) => field.includes(".") && !/\.[0-9]/.test(field))));
        const read = textTable(bytes, layout).values([0, 1, 2]);
        for (let i = 0; i < 3; i++) expect([...read[i]]).toEqual(rows.map((row) => Number(row[i])));
      }),
      { numRuns: 400, seed: 31 },
    );
  });

  test("with a byte changed anywhere, lines are read as one by one or refused", () => {
    const rows = Array.from({ length: 30 }, (_, i) => `${(i / 1000).toFixed(5)},${(700 + 13 * i).toFixed(6)},${(i - 4).toFixed(3)}`);
    const whole = new TextEncoder().encode(`${rows.join("\n")}\n`);
    const layout = textLayout(whole);
    fc.assert(
      fc.property(fc.nat(whole.length - 1), fc.constantFrom(...'0:/.,-+eE "\r\n\u001f'), (at, letter) => {
        const bytes = whole.slice();
        bytes[at] = letter.charCodeAt(0);
        const outcome = (read: () => Float64Array[]) => {
          try {
            return read().map((values) => [...values]);
          } catch (error) {
            return (error as Error).message;
          }
        };
        const table = (quoted: boolean) => textTable(bytes, { ...layout, quoted });
        // Told that fields may stand in quotes, the reader takes every line apart field by field.
        if (letter !== '"') expect(outcome(() => table(false).values([0, 1, 2]))).toEqual(outcome(() => table(true).values([0, 1, 2])));
      }),
      { numRuns: 3000, seed: 32 },
    );
  });
});

describe("the digits that numbers are written with", () => {
  const written = (text: string, index: number) => {
    const bytes = new TextEncoder().encode(text);
    const table = textTable(bytes, textLayout(bytes));
    table.values([0, 1]);
    return table.written?.(index);
  };

  test("are the most of the column", () => {
    const rows = Array.from({ length: 40 }, (_, i) => `${i}.5,${i === 20 ? "-123456.25" : i === 30 ? "7.0001" : "1.25"}`);
    expect(written(`a,b\n${rows.join("\n")}\n`, 1)).toEqual({ whole: 6, decimals: 4 });
  });

  test("are not told where a number is written in another way", () => {
    const rows = Array.from({ length: 40 }, (_, i) => `${i}.5,${i === 20 ? "1e6" : "1.25"}`);
    expect(written(`a,b\n${rows.join("\n")}\n`, 1)).toBeUndefined();
  });
});
