import { describe, expect, test } from "vitest";
import { textHead } from "../../../src/read/textHead.ts";
import { bytesOf } from "../../../src/read/textBytes.ts";
import { textLayout } from "../../../src/read/textLayout.ts";

// What the head before gave is remembered: each of these differs from the one before it in one thing alone.
describe("heads one after another", () => {
  const columnsOf = (head: string, line: string) => textHead(textLayout(bytesOf(`${head}\n${`${line}\n`.repeat(8)}`)));

  test("each gives its own columns", () => {
    // By hand.
    expect(columnsOf("left,right", "1.5,2.5")).toEqual([{ name: "left" }, { name: "right" }]);
    expect(columnsOf("left,rigth", "1.5,2.5")).toEqual([{ name: "left" }, { name: "rigth" }]);
    expect(columnsOf("left,right", "1.5,2.5")).toEqual([{ name: "left" }, { name: "right" }]);
    expect(columnsOf("left,right", "1.5,2.5,3.5").map(({ name }) => name)).toEqual(["left", "right", "column 3"]);
    expect(columnsOf("left;right", "1.5;2.5").map(({ name }) => name)).toEqual(["left", "right"]);
    expect(columnsOf("left,right\nN,N", "1.5,2.5")).toEqual([{ name: "left", unit: "N" }, { name: "right", unit: "N" }]);
  });
});
