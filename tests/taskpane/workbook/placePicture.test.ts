import { describe, expect, test } from "vitest";
import { placePicture } from "../../../taskpane/workbook/placePicture.ts";
import { MemoryHost } from "../../support/memoryHost.ts";

const picture = (altText: string) => ({ dataUrl: "data:image/png;base64,", width: 10, height: 10, altText });

describe("placePicture", () => {
  test("places a chart beside what stands there, as one step; undoing it takes that one alone", async () => {
    const host = new MemoryHost();
    await host.apply([{ kind: "addSheet", sheet: "Charts" }], { label: "test" });
    const own = { of: "a person", altText: "my own" } as const;
    host.pictures.set("Charts", [own]);
    await placePicture(host, picture("first"), { sheet: "Charts", row: 0, column: 0 }, "Chart");
    const applied = await placePicture(host, picture("second"), { sheet: "Charts", row: 5, column: 0 }, "Chart");
    expect(host.pictures.get("Charts")).toEqual([own, { of: "chart", altText: "first" }, { of: "chart", altText: "second" }]);
    expect(host.batches.map(({ label }) => label)).toEqual(["test", "Chart", "Chart"]);
    await host.undo(applied);
    expect(host.pictures.get("Charts")).toEqual([own, { of: "chart", altText: "first" }]);
  });
});
