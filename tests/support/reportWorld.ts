import { formatProtocol } from "../../src/protocols/formatProtocol.ts";
import { parseProtocol } from "../../src/protocols/parseProtocol.ts";
import type { Settings } from "../../src/settings/Settings.ts";
import { settingsFrom } from "../../src/settings/settingsFrom.ts";
import type { SyntheticOptions } from "../../src/synthetic/SyntheticOptions.ts";
import { syntheticTrial } from "../../src/synthetic/syntheticTrial.ts";
import { liveTrials, recordedTrials, type DecideTrial } from "../../taskpane/decide/DecideTrial.ts";
import { analyseTrial } from "../../taskpane/pane/analyseTrial.ts";
import { recordDraftOf } from "../../taskpane/pane/recording.ts";
import { createWorkbookModel } from "../../taskpane/workbook/createWorkbookModel.ts";
import { latestByTrial, record, recordedRows } from "../../taskpane/workbook/record.ts";
import { DEFAULT_RESULT_NAMES, TRIAL_COLUMNS } from "../../taskpane/workbook/sheets.ts";
import type { TrialDraft } from "../../taskpane/workbook/WorkbookModel.ts";
import { MemoryHost } from "./memoryHost.ts";

let made = 0;
function draft(athlete: string, date: string, protocol: string, options: Partial<SyntheticOptions> = {}): TrialDraft {
  const asked = parseProtocol(protocol);
  const { trace } = syntheticTrial({ test: asked.test, mass: 70, seed: ++made, faults: { noise: 0.8 }, ...(asked.limb === undefined ? {} : { limb: asked.limb }), ...(asked.load === undefined ? {} : { load: asked.load }), ...options });
  return { athlete, date, protocol: asked, file: "", startInFile: 0, hash: `made-${made}`, trace };
}

/** Three people on three days, and a day of every kind of test for one of them. */
function everything(): TrialDraft[] {
  const days = ["2026-01-10", "2026-01-24", "2026-02-07"];
  const squad = ["Ida", "Noa", "Sam"].flatMap((athlete, person) =>
    days.flatMap((date, day) => [0.31, 0.315, 0.307].map((height, at) => draft(athlete, date, "CMJ arms=hips limb=both", { height: height + 0.04 * person + 0.004 * day * (person - 1) + 0.001 * at, leftShare: { braking: 0.52, propulsion: 0.53 + 0.002 * at } }))),
  );
  const day = days[2];
  return [
    ...squad,
    // One that does not say that both legs jumped: the same session as the others.
    draft("Ida", day, "CMJ arms=hips", { height: 0.318 }),
    ...[0.28, 0.286, 0.282].map((height) => draft("Ida", day, "SJ arms=hips", { height })),
    ...[0.37, 0.365].map((height) => draft("Ida", day, "CMJ arms=swing", { height })),
    ...[1700, 1760].map((rise) => draft("Ida", day, "IMTP", { pull: { rise } })),
    ...[0.15, 0.156, 0.152].map((height) => draft("Ida", day, "CMJ arms=hips limb=left", { height, timeToTakeoff: 0.9 })),
    ...[0.147, 0.15, 0.143].map((height) => draft("Ida", day, "CMJ arms=hips limb=right", { height, timeToTakeoff: 0.9 })),
    ...[0.27, 0.28].map((height) => draft("Ida", day, "DJ drop=0.30 arms=hips", { height, drop: 0.26 })),
    ...[0.25, 0.262].map((height) => draft("Ida", day, "DJ drop=0.45 arms=hips", { height, drop: 0.4, contactTime: 0.23 })),
    ...[0.24, 0.245].map((height) => draft("Ida", day, "SJ arms=hips load=20", { height })),
    ...[0.2, 0.205].map((height) => draft("Ida", day, "SJ arms=hips load=100", { height })),
    // Times of a mat in between: never part of the session of the plates.
    { ...draft("Ida", day, "CMJ arms=hips"), trace: { flight: 0.6, source: "mat" as const } },
  ];
}

/** A workbook in memory with a squad over three days, and what the pane makes of it. */
export interface World {
  readonly host: MemoryHost;
  readonly workbook: ReturnType<typeof createWorkbookModel>;
  readonly live: readonly DecideTrial[];
  readonly recorded: readonly DecideTrial[];
  readonly settings: Settings;
}

/** Writes and records the trials of the squad. */
export async function world(settings = settingsFrom([])): Promise<World> {
  made = 0;
  const host = new MemoryHost();
  const workbook = createWorkbookModel(host);
  const drafts = everything();
  await workbook.addTrials(drafts);
  drafts.forEach(({ protocol }, index) => host.setResult("Trials", index + 1, TRIAL_COLUMNS.indexOf("protocol"), formatProtocol(protocol)));
  const analysed = (await workbook.trials()).map((row) => analyseTrial(row, Object.entries(settings.values).map(([id, value]) => ({ id, value, isDefault: true }))));
  const drafted = analysed.flatMap((each) => recordDraftOf(each, DEFAULT_RESULT_NAMES) ?? []);
  // The first day was recorded twice, the first time with other numbers: the second counts.
  await record(host, drafted.filter(({ date }) => date === "2026-01-10").map((each) => ({ ...each, metrics: each.metrics.map((metric) => ({ ...metric, value: 1 })) })), new Date("2026-01-10T09:00:00Z"));
  await record(host, drafted, new Date("2026-02-07T18:00:00Z"));
  return { host, workbook, live: liveTrials(analysed), recorded: recordedTrials(latestByTrial(await recordedRows(host))), settings };
}
