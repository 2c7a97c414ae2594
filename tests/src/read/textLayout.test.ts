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
});
