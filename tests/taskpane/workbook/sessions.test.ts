import { describe, expect, test } from "vitest";
import { createWorkbookModel } from "../../../taskpane/workbook/createWorkbookModel.ts";
import { writeSessions } from "../../../taskpane/workbook/sessions.ts";
import type { TrialDraft } from "../../../taskpane/workbook/WorkbookModel.ts";
import { MemoryHost } from "../../support/memoryHost.ts";

const draft = (hash: string, athlete: string, test: "CMJ" | "SJ"): TrialDraft => ({
  athlete, date: "2026-03-14", protocol: { test }, file: "", startInFile: 0, hash,
  trace: { rate: 1000, plates: [{ role: "total", force: new Float64Array(64).fill(700) }], start: 0, step: 0, rounding: 0 },
});

/** The host calculates nothing: the protocol column is given its result as the sheet would. */
async function filled(): Promise<MemoryHost> {
  const host = new MemoryHost();
  await createWorkbookModel(host).addTrials([draft("a", "Bo", "CMJ"), draft("b", "Bo", "CMJ"), draft("c", "Ada", "CMJ"), draft("d", "Bo", "SJ")]);
  ["CMJ", "CMJ", "CMJ", "SJ"].forEach((protocol, index) => host.setResult("Trials", index + 1, 8, protocol));
  return host;
}

describe("writeSessions", () => {
  test("gives one row for each athlete, day and protocol, and mixes no protocols", async () => {
    const host = await filled();
    await writeSessions(host, createWorkbookModel(host));
    const rows = [1, 2, 3].map((row) => [0, 2].map((column) => host.cell("Sessions", row, column).value));
    expect(rows).toEqual([["Ada", "CMJ"], ["Bo", "CMJ"], ["Bo", "SJ"]]);
    expect(host.cell("Sessions", 4, 0).value).toBe("");
  });

  test("writes formulas a person can read, over bounded ranges", async () => {
    const host = await filled();
    await writeSessions(host, createWorkbookModel(host));
    expect(host.cell("Sessions", 0, 5).value).toBe("jumpHeight cm");
    expect(host.cell("Sessions", 1, 5).formula).toBe(
      '=IFERROR(LEAP.SESSION_VALUE(FILTER(Results!$F$2:$F$5,(Results!$A$2:$A$5=$A2)*(Results!$B$2:$B$5=$B2)*(Results!$C$2:$C$5=$C2)*(Results!$D$2:$D$5="keep")*ISNUMBER(Results!$F$2:$F$5)),,"mean",3),"")',
    );
  });

  test("puts trials together that say both legs and that do not, as the pane does", async () => {
    const host = await filled();
    host.setResult("Trials", 1, 8, "CMJ limb=both");
    await writeSessions(host, createWorkbookModel(host));
    expect([1, 2, 3, 4].map((row) => host.cell("Sessions", row, 2).value)).toEqual(["CMJ", "CMJ", "SJ", ""]);
    expect(host.cell("Sessions", 1, 5).formula).toContain("(IFERROR(LEAP.LIKE_PROTOCOL(Results!$C$2:$C$5),Results!$C$2:$C$5)=$C2)");
  });

  test("does not average the times of a mat with force plates, and says so", async () => {
    const host = await filled();
    const workbook = createWorkbookModel(host);
    await workbook.addTrials([{ ...draft("e", "Ada", "CMJ"), trace: { flight: 0.5, source: "mat" } }]);
    host.setResult("Trials", 5, 8, "CMJ");
    await writeSessions(host, workbook);
    expect(host.cell("Sessions", 1, 0).value).toBe("Ada");
    expect(host.cell("Sessions", 1, 3).value).toContain("force plate and mat");
    expect(host.cell("Sessions", 1, 5)).toEqual({ value: "", formula: "" });
    expect(host.cell("Sessions", 2, 5).formula).toContain("LEAP.SESSION_VALUE");
  });

  test("shows the best where the setting says so, and leaves no old rows", async () => {
    const host = await filled();
    const workbook = createWorkbookModel(host);
    await writeSessions(host, workbook);
    host.setResult("Sessions", 9, 0, "old");
    await workbook.setSetting("session-value", "best");
    await writeSessions(host, workbook);
    expect(host.cell("Sessions", 1, 5).formula).toContain(`,,"best",3),"")`);
    expect(host.cell("Sessions", 9, 0).value).toBe("");
  });
});
