import { describe, expect, test } from "vitest";
import { createWorkbookModel } from "../../../taskpane/workbook/createWorkbookModel.ts";
import { placePicture } from "../../../taskpane/workbook/placePicture.ts";
import { MemoryHost } from "../../support/memoryHost.ts";

const picture = (altText: string) => ({ dataUrl: "data:image/png;base64,", width: 10, height: 10, altText });

describe("placePicture", () => {
  test("places a picture beside what stands there; undoing it leaves what stood there before", async () => {
    const host = new MemoryHost();
    await host.apply([{ kind: "addSheet", sheet: "Charts" }], { label: "test" });
    await host.addPicture("Charts", "data:image/png;base64,", { sheet: "Charts", row: 0, column: 0 }, { width: 1, height: 1 }, "first");
    const applied = await placePicture(host, picture("second"), { sheet: "Charts", row: 5, column: 0 }, "Chart");
    expect(host.pictures.get("Charts")).toEqual(["first", "second"]);
    expect(applied.label).toBe("Chart");
    await createWorkbookModel(host).undo(applied);
    expect(host.pictures.get("Charts")).toEqual(["first"]);
  });
});
