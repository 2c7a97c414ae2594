import { describe, expect, test } from "vitest";
import { bytesOf } from "../../../src/read/textBytes.ts";
import { splitLine, textLayout } from "../../../src/read/textLayout.ts";

describe("splitLine", () => {
  test.each([
    ["a, b ,c", "comma", ["a", "b", "c"]],
    ['"a, b","say ""x""",c', "comma", ["a, b", 'say "x"', "c"]],
    ["  1   2\t3 ", "spaces", ["1", "2", "3"]],
    ["1;;3;", "semicolon", ["1", "", "3", ""]],
  ] as const)("cuts %j at every %s", (line, delimiter, fields) => {
    expect(splitLine(line, delimiter, line.includes('"'))).toEqual(fields);
  });
});

describe("textLayout", () => {
  const rows = (row: (i: number) => string) => Array.from({ length: 40 }, (_, i) => row(i)).join("\n");

  test.each([
    ["integers cut by commas", rows((i) => `${i},${700 + i}`), "comma", ".", 2],
    ["one column of decimal commas", rows((i) => `${700 + (i % 3)},0${i % 10}`), "semicolon", ",", 1],
    ["decimal commas cut by tabs", rows((i) => `0,${10 + i}\t700,5`), "tab", ",", 2],
    ["a comma and a blank after each number", rows((i) => `${i}.5, 700.25, 3`), "comma", ".", 3],
    ["points cut by semicolons", rows((i) => `${i}.5;700.25`), "semicolon", ".", 2],
  ] as const)("finds delimiter and decimal mark of %s", (_what, text, delimiter, decimal, fields) => {
    const layout = textLayout(bytesOf(text));
    expect([layout.delimiter, layout.decimal, layout.fields, layout.head.length]).toEqual([delimiter, decimal, fields, 0]);
  });

  test("a faulty line in the head of the table does not push the head down", () => {
    const lines = rows((i) => `${i}.5,700.25,3.5,1.5,2.5`).split("\n");
    lines[1] = "1.5,abc,3.5,1.5,2.5";
    expect(textLayout(bytesOf(["a,b,c,d,e", ...lines].join("\n"))).head).toEqual(["a,b,c,d,e"]);
  });

  test("does what the recipe says, and says so", () => {
    const layout = textLayout(bytesOf(`x\n${rows((i) => `${i};700`)}`), { delimiter: "semicolon", headerLines: 3 });
    expect([layout.head.length, layout.whyDelimiter]).toEqual([3, "as you said"]);
  });

  // Of a longer file lines from four places are looked at, and where all are plain without cutting them into texts; a shorter one of the same lines takes the other way.
  test.each([
    ["commas", ",", (i: number) => `${(i / 1000).toFixed(3)},${600 + i}.25,-${i}.5`],
    ["commas between whole numbers", ",", (i: number) => `${i},${600 + i},${i % 7}`],
    ["semicolons", ";", (i: number) => `${i}.0;${600 + i}.25;-3`],
    ["semicolons and decimal commas", ";", (i: number) => `${i},0;${600 + i},25;-3,5`],
    ["tabs", "\t", (i: number) => `${i}\t600.25\t-3.5\t0`],
    ["bars", "|", (i: number) => `${i}|600.25|-3.5`],
    ["commas and blanks", ",", (i: number) => `${i}, 600.25, -3.5`],
    ["commas, with exponents", ",", (i: number) => `${i}e0,600.25,-3.5`],
    ["commas, with a text", ",", (i: number) => `${i},good,600.25,-3.5`],
    ["two columns of whole numbers", ",", (i: number) => `${600 + i},${i}`],
  ] as const)("reads a long file as a short one: %s", (_what, delimiter, row) => {
    for (const end of ["\n", "\r\n", "\r"]) {
      const text = (lines: number) => bytesOf(["device 7", `time${delimiter}left${delimiter}right`, ...Array.from({ length: lines }, (_, i) => row(i + 100))].join(end) + end);
      const long = text(4000);
      expect(long.length).toBeGreaterThan(20_000);
      expect(textLayout(long)).toEqual(textLayout(text(60)));
    }
  });
});
