import { useCallback, useDeferredValue, useEffect, useMemo, useRef, useState, type CSSProperties, type KeyboardEvent, type ReactNode } from "react";
import { Button, Input, makeStyles, mergeClasses, ProgressBar, Select, tokens } from "@fluentui/react-components";
import { Search16Regular } from "@fluentui/react-icons";
import { AfterSession } from "./AfterSession.tsx";
import type { AnalysedTrial } from "./analyseTrial.ts";
import { formatDate } from "./format.ts";
import { groupTrials, type TrialFilter, type TrialGroup } from "./groupTrials.ts";
import { LeaveOutDialog } from "./LeaveOutDialog.tsx";
import { lineOf } from "./lineOf.ts";
import { LostResults } from "./LostResults.tsx";
import { usePane } from "./PaneContext.tsx";
import { protocolWords } from "./protocolWords.ts";
import { ViewTitle } from "./SectionHead.tsx";
import { metricName } from "./texts.ts";
import { TrialPage } from "./TrialPage.tsx";
import { TrialLine } from "./TrialLine.tsx";
import { useDrawnParts, type ListPart } from "./useDrawnParts.ts";
import { useKeptFocus } from "./useKeptFocus.ts";
import { useTrials } from "./useTrials.ts";
import { useUnits } from "./useUnits.tsx";
import type { UnitChoice } from "./withUnits.ts";
import { words } from "./words.ts";

/** Height of a line without a note. */
const LINE = "62px";

const useStyles = makeStyles({
  count: { margin: "0 0 8px", color: tokens.colorNeutralForeground2, fontSize: tokens.fontSizeBase200 },
  choices: { display: "flex", gap: "8px", marginBottom: "8px" },
  search: { flex: "1 1 auto", minWidth: 0 },
  select: { flex: "0 0 auto", maxWidth: "45%" },
  athlete: { margin: "14px 0 2px", fontSize: tokens.fontSizeBase300, fontWeight: tokens.fontWeightSemibold, overflowWrap: "anywhere", contentVisibility: "auto" },
  set: { margin: "4px 0 2px", fontSize: tokens.fontSizeBase200, fontWeight: tokens.fontWeightRegular, color: tokens.colorNeutralForeground2, overflowWrap: "anywhere" },
  list: { listStyle: "none", margin: 0, padding: 0 },
  // About as high as they become, so that little moves when they come near: a name, heads of two lines, lines without a note.
  group: { contentVisibility: "auto", containIntrinsicSize: `auto calc(36px + 46px * var(--sets) + ${LINE} * var(--lines))` },
  waiting: { height: `calc(${LINE} * var(--lines))` },
  // A finger has no keys.
  keys: { margin: "0 0 8px", fontSize: tokens.fontSizeBase200, color: tokens.colorNeutralForeground2, "@media (pointer: coarse)": { display: "none" } },
});

/** Identity of a line: two rows of one recording have one key, and each has its own line. */
function lineId(trial: AnalysedTrial): string {
  return `${trial.row.key} ${trial.row.row}`;
}

/** Trials that are drawn at once: about a screenful. */
const FIRST = 10;

/** Trials that are drawn wherever they stand, a few at a time: a short list is whole, for a search on the page too. */
const ALWAYS = 40;

/** Lines of a part at most. */
const PART = 6;

/** Lines of a set that are drawn together. */
interface Part extends ListPart {
  /** Place of its first trial in the set, and in the whole list. */
  readonly from: number;
  readonly place: number;
  readonly trials: readonly AnalysedTrial[];
}

function partsOf(groups: readonly TrialGroup[]): { readonly all: readonly Part[]; readonly parts: ReadonlyMap<TrialGroup["sets"][number], readonly Part[]>; readonly partOf: ReadonlyMap<string, Part> } {
  const all: Part[] = [];
  const parts = new Map<TrialGroup["sets"][number], readonly Part[]>();
  const partOf = new Map<string, Part>();
  let place = 0;
  for (const group of groups) {
    for (const set of group.sets) {
      const ofSet: Part[] = [];
      for (let from = 0; from < set.trials.length; from += PART) {
        const trials = set.trials.slice(from, from + PART);
        const part = { id: `${group.athlete} ${set.date} ${set.protocol} ${from}`, lines: trials.length, from, place, trials };
        for (const trial of trials) partOf.set(lineId(trial), part);
        ofSet.push(part);
        all.push(part);
        place += trials.length;
      }
      parts.set(set, ofSet);
    }
  }
  return { all, parts, partOf };
}

function isAlways(part: Part): boolean {
  return part.place < ALWAYS;
}

function nameOf(trial: AnalysedTrial, units: UnitChoice): string {
  return `${trial.row.athlete}, ${protocolWords(trial.row.protocol, units)}`;
}

/** What the numbers of a set are; blank where its trials show different metrics or none. */
function headlineName(trials: readonly AnalysedTrial[]): string {
  const names = new Set(trials.flatMap((trial) => lineOf(trial).value?.id ?? []));
  return names.size === 1 ? metricName([...names][0]) : "";
}

/** All trials by athlete as small traces with their verdicts; one of them opened large. */
export function TrialsView({ opened }: { readonly opened?: { readonly key: string } }): ReactNode {
  const styles = useStyles();
  const { workbook, perform, go } = usePane();
  const units = useUnits();
  const state = useTrials();
  const [open, setOpen] = useState<string | undefined>();
  const [search, setSearch] = useState("");
  const [filter, setFilter] = useState<TrialFilter>("all");
  const [active, setActive] = useState<string | undefined>();
  const [leavingOut, setLeavingOut] = useState<AnalysedTrial | undefined>();
  const list = useRef<HTMLDivElement>(null);
  const trials = state.trials;
  const deferredSearch = useDeferredValue(search);
  const groups = useMemo(() => groupTrials(trials ?? [], filter, deferredSearch), [trials, filter, deferredSearch]);
  const { all, parts, partOf } = useMemo(() => partsOf(groups), [groups]);
  const { drawn, reach, hold } = useDrawnParts(list, all, isAlways, `${filter} ${deferredSearch}`);
  const inOrder = useMemo(() => groups.flatMap((group) => group.sets.flatMap((set) => set.trials)), [groups]);

  useEffect(() => {
    if (opened !== undefined) setOpen(opened.key);
  }, [opened]);

  const keep = useCallback(
    (trial: AnalysedTrial, choice: "keep" | "leave out" | "", reason: string) => {
      const who = nameOf(trial, units);
      const done = choice === "keep" ? words.trials.kept(who) : choice === "" ? words.trials.followed(who) : words.trials.leftOutDone(who);
      return perform(() => workbook.setKeep(trial.row.key, choice, reason), done);
    },
    [perform, workbook, units],
  );
  const decide = useCallback(
    (trial: AnalysedTrial, choice: "keep" | "leave out" | "") => {
      if (choice === "leave out") setLeavingOut(trial);
      else void keep(trial, choice, "");
    },
    [keep],
  );
  const openTrial = useCallback((trial: AnalysedTrial) => {
    setActive(lineId(trial));
    setOpen(trial.row.key);
  }, []);

  const keepFocus = useKeptFocus(list);
  const focusLine = (id: string): void => {
    const part = partOf.get(id);
    if (part !== undefined) reach(part.id);
    list.current?.querySelector<HTMLElement>(`[data-line="${CSS.escape(id)}"]`)?.focus();
  };
  const back = (): void => {
    setOpen(undefined);
    if (active !== undefined) requestAnimationFrame(() => focusLine(active));
  };

  const onKeyDown = (key: KeyboardEvent<HTMLElement>): void => {
    if (key.ctrlKey || key.altKey || key.metaKey) return;
    const id = (key.target as HTMLElement).closest<HTMLElement>("[data-line]")?.dataset.line;
    const at = inOrder.findIndex((trial) => lineId(trial) === id);
    if (at < 0) return;
    const to = key.key === "ArrowDown" ? at + 1 : key.key === "ArrowUp" ? at - 1 : key.key === "Home" ? 0 : key.key === "End" ? inOrder.length - 1 : undefined;
    if (to !== undefined) {
      key.preventDefault();
      const next = inOrder[Math.min(Math.max(to, 0), inOrder.length - 1)];
      setActive(lineId(next));
      focusLine(lineId(next));
      return;
    }
    const choice = ({ k: "keep", x: "leave out", f: "" } as const)[key.key.toLowerCase() as "k" | "x" | "f"];
    if (choice !== undefined) {
      key.preventDefault();
      decide(inOrder[at], choice);
    }
  };

  const dialog = leavingOut !== undefined && (
    <LeaveOutDialog
      name={nameOf(leavingOut, units)}
      reason={leavingOut.row.reason}
      onCancel={() => setLeavingOut(undefined)}
      onLeaveOut={(reason) => {
        void keep(leavingOut, "leave out", reason);
        setLeavingOut(undefined);
      }}
    />
  );

  const openAt = open === undefined ? -1 : inOrder.findIndex((trial) => trial.row.key === open);
  const openedTrial = openAt >= 0 ? inOrder[openAt] : open === undefined ? undefined : trials?.find((trial) => trial.row.key === open);
  const athletes = new Set(trials?.map((trial) => trial.row.athlete)).size;
  const isDrawn = (part: Part): boolean => part.place + part.lines <= FIRST || part.place === 0 || drawn.has(part.id);
  const activePart = active === undefined ? undefined : partOf.get(active);
  const activeId = activePart !== undefined && isDrawn(activePart) ? active : inOrder[0] && lineId(inOrder[0]);
  return (
    <>
      {openedTrial !== undefined && (
        <TrialPage
          key={openedTrial.row.key}
          trial={openedTrial}
          others={trials?.filter((trial) => trial.row.athlete === openedTrial.row.athlete && trial.row.key !== openedTrial.row.key) ?? []}
          onBack={back}
          onPrevious={openAt > 0 ? () => openTrial(inOrder[openAt - 1]) : undefined}
          onNext={openAt >= 0 && openAt + 1 < inOrder.length ? () => openTrial(inOrder[openAt + 1]) : undefined}
          onDecide={(choice) => decide(openedTrial, choice)}
        />
      )}
      {/* The list stays while one of its trials is open: drawing hundreds of lines anew would make the way back slow. */}
      <div hidden={openedTrial !== undefined}>
        <ViewTitle>{words.trials.title}</ViewTitle>
        {state.problem !== undefined && <p role="alert">{state.problem}</p>}
        {trials === undefined && state.problem === undefined && (
          <>
            <p className={styles.count}>{words.pane.loading}</p>
            {state.total > 0 && <ProgressBar aria-label={words.pane.loading} value={state.done} max={state.total} />}
          </>
        )}
        {trials !== undefined && <LostResults changed={trials} />}
        {trials?.length === 0 && (
          <>
            <p>{words.trials.empty}</p>
            <Button appearance="primary" onClick={() => go("bringIn")}>
              {words.trials.bringIn}
            </Button>
          </>
        )}
        {trials !== undefined && trials.length > 0 && (
          <>
            <p className={styles.count}>
              {words.trials.count(trials.length, athletes)}, {words.trials.toLook(trials.filter((trial) => trial.doubtful).length)}
            </p>
            <div className={styles.choices}>
              <Input className={styles.search} size="small" type="search" contentBefore={<Search16Regular />} placeholder={words.trials.filterAthlete} aria-label={words.trials.filterAthlete} value={search} onChange={(_, data) => setSearch(data.value)} />
              <Select className={styles.select} size="small" aria-label={words.trials.filterVerdict} value={filter} onChange={(_, data) => setFilter(data.value as TrialFilter)}>
                <option value="all">{words.trials.all}</option>
                <option value="doubtful">{words.trials.doubtful}</option>
                <option value="left out">{words.trials.leftOut}</option>
              </Select>
            </div>
            <p className={styles.keys}>{words.trials.keys}</p>
            {groups.length === 0 && <p>{words.trials.nothingFits}</p>}
            <div ref={list} onKeyDown={onKeyDown} onPointerDown={hold} {...keepFocus}>
              {groups.map((group) => (
                <section key={group.athlete} aria-label={group.athlete} style={{ "--sets": group.sets.length, "--lines": group.sets.reduce((sum, set) => sum + set.trials.length, 0) } as CSSProperties} className={mergeClasses(group.sets.every((set) => parts.get(set)!.every(isDrawn)) && styles.group)}>
                  <h2 className={styles.athlete}>{group.athlete}</h2>
                  {group.sets.map((set) => (
                    <div key={`${set.date} ${set.protocol}`}>
                      <h3 className={styles.set}>
                        {[protocolWords(set.protocol, units), formatDate(set.date), parts.get(set)!.every(isDrawn) ? headlineName(set.trials) : ""].filter((text) => text !== "").join(" \u00b7 ")}
                      </h3>
                      <ul className={styles.list}>
                        {parts.get(set)!.flatMap((part) =>
                          isDrawn(part)
                            ? part.trials.map((trial, index) => (
                                <TrialLine key={lineId(trial)} id={lineId(trial)} trial={trial} number={part.from + index + 1} reachable={lineId(trial) === activeId} onOpen={openTrial} onDecide={decide} />
                              ))
                            : [<li key={part.id} data-part={part.id} aria-hidden="true" className={styles.waiting} style={{ "--lines": part.trials.length } as CSSProperties} />],
                        )}
                      </ul>
                    </div>
                  ))}
                </section>
              ))}
            </div>
            <AfterSession trials={trials} />
          </>
        )}
      </div>
      {dialog}
    </>
  );
}
