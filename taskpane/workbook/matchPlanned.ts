import type { PlannedRow, PlannedTrial } from "./WorkbookModel.ts";

/** What is known of a trial on its way in. */
export type IncomingTrial = Omit<PlannedTrial, "mass">;

/**
 * The planned row that each incoming trial fills: of the rows of that athlete and test which nothing contradicts, the one with most facts in common; of equals the first.
 *
 * A fact that one of both does not state contradicts nothing: that is how a plan knows the drop height of a file that does not say it. Each row is filled once.
 *
 * @returns One entry a trial, `undefined` where no planned row is left for it.
 */
export function matchPlanned(trials: readonly IncomingTrial[], planned: readonly PlannedRow[]): readonly (PlannedRow | undefined)[] {
  const open = new Map<string, PlannedRow[]>();
  for (const row of planned) open.set(groupOf(row), [...(open.get(groupOf(row)) ?? []), row]);
  return trials.map((trial) => {
    const rows = open.get(groupOf(trial)) ?? [];
    let best: PlannedRow | undefined;
    let most = -1;
    for (const row of rows) {
      const facts = factsInCommon(trial, row);
      if (facts !== undefined && facts > most) {
        best = row;
        most = facts;
      }
    }
    if (best !== undefined) rows.splice(rows.indexOf(best), 1);
    return best;
  });
}

/** A trial with what its planned row states and it does not; a stated fact of the trial stays. */
export function filledFrom<T extends IncomingTrial & { readonly mass?: number }>(trial: T, planned: PlannedTrial): T {
  return {
    ...trial,
    // The plan's own spelling of the name.
    athlete: planned.athlete,
    date: trial.date === "" ? planned.date : trial.date,
    protocol: { ...planned.protocol, ...trial.protocol },
    ...(trial.mass === undefined && planned.mass !== undefined ? { mass: planned.mass } : {}),
  };
}

/** How many facts both state alike; `undefined` where one contradicts. */
export function factsInCommon(trial: IncomingTrial, row: IncomingTrial): number | undefined {
  if (plain(trial.athlete) === "" || groupOf(trial) !== groupOf(row)) return undefined;
  const [did, asked] = [trial.protocol, row.protocol];
  const pairs: readonly (readonly [unknown, unknown])[] = [
    [trial.date || undefined, row.date || undefined],
    [did.arms, asked.arms],
    [did.dropHeight, asked.dropHeight],
    // A plan that names no leg asks for both, and one that names no load for none.
    [did.limb, asked.limb ?? "both"],
    [did.load, asked.load ?? 0],
  ];
  const both = pairs.filter(([a, b]) => a !== undefined && b !== undefined);
  return both.some(([a, b]) => a !== b) ? undefined : both.length;
}

function groupOf({ athlete, protocol }: IncomingTrial): string {
  return `${protocol.test} ${plain(athlete)}`;
}

function plain(name: string): string {
  return name.trim().replace(/\s+/g, " ").toLowerCase();
}
