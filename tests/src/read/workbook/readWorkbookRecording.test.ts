import { writeXlsx } from "hucre/xlsx";
import { describe, expect, test } from "vitest";
import { openRecording } from "../../../../src/read/openRecording.ts";
import { readWorkbookRecording } from "../../../../src/read/workbook/readWorkbookRecording.ts";

const FORCES = Array.from({ length: 120 }, (_, i) => (i > 50 && i < 80 ? 0 : 350 + Math.round(40 * Math.sin(i / 5)) / 4));
const ROWS = [["Time (s)", "Left (N)", "Right (N)"], ...FORCES.map((force, i) => [i / 200, force, force / 2])];
const NOTES = { name: "Notes", rows: [["Written by nobody"], ["An invented session", 3]] };

describe("readWorkbookRecording", () => {
  test("reads the columns of the sheet with the most numbers, exactly", async () => {
    const bytes = await writeXlsx({ sheets: [NOTES, { name: "Jump 1", rows: ROWS }] });
    const recording = await readWorkbookRecording(bytes, "jump.xlsx");
    expect(recording.format).toBe("workbook");
    expect(recording.guesses.sheet).toMatchObject({ value: "Jump 1", alternatives: ["Notes"] });
    expect(recording.trace()).toMatchObject({
      rate: 200,
      plates: [
        { role: "left", force: Float64Array.from(FORCES) },
        { role: "right", force: Float64Array.from(FORCES, (force) => force / 2) },
      ],
    });
  });

  test("reads the sheet that the recipe names, and refuses one that is not there", async () => {
    const bytes = await writeXlsx({ sheets: [{ name: "Jump 1", rows: ROWS }, { name: "Jump 2", rows: ROWS.slice(0, 60) }] });
    const recording = await readWorkbookRecording(bytes, "jump.xlsx", { sheet: "Jump 2" });
    expect(recording.trace().plates[0].force).toHaveLength(59);
    await expect(readWorkbookRecording(bytes, "jump.xlsx", { sheet: "Jump 3" })).rejects.toMatchObject({ code: "unknown-name" });
  });

  test("says the row of a text among the numbers", async () => {
    const rows = ROWS.map((row) => [...row]);
    rows[30][1] = "lost";
    const recording = await openRecording(await writeXlsx({ sheets: [{ name: "A", rows }] }), "jump.xlsx");
    expect(() => recording.trace()).toThrow(expect.objectContaining({ code: "not-a-number", where: "line 31, column 2" }));
  });

  test("refuses a workbook without numbers, and one that is cut", async () => {
    const words = await writeXlsx({ sheets: [{ name: "A", rows: [["only"], ["words"]] }] });
    await expect(openRecording(words, "words.xlsx")).rejects.toMatchObject({ code: "not-recognised" });
    const bytes = await writeXlsx({ sheets: [{ name: "A", rows: ROWS }] });
    await expect(openRecording(bytes.slice(0, bytes.length - 40), "cut.xlsx")).rejects.toMatchObject({ code: "damaged" });
  });

  test("reads text through the same door", async () => {
    const text = new TextEncoder().encode(ROWS.map((row) => row.join(",")).join("\n"));
    expect((await openRecording(text, "jump.csv")).trace().rate).toBe(200);
  });
});
