import { useCallback, useDeferredValue, useEffect, useMemo, useRef, useState, type DragEvent, type ReactNode } from "react";
import { Button, Checkbox, makeStyles, mergeClasses, ProgressBar, tokens } from "@fluentui/react-components";
import { DocumentAdd20Regular, FolderAdd20Regular } from "@fluentui/react-icons";
import type { Test } from "../../src/protocols/Protocol.ts";
import { testName } from "../../src/wording/testName.ts";
import type { ImportRecipe } from "../../src/read/ImportRecipe.ts";
import { MAX_RECORDING_BYTES } from "../../src/read/limits.ts";
import { filledFrom, matchPlanned } from "../workbook/matchPlanned.ts";
import type { PlannedRow, TrialDraft } from "../workbook/WorkbookModel.ts";
import { dateInName } from "./bringIn/dateInName.ts";
import { factsOf } from "./bringIn/factsOf.ts";
import { FactsForm } from "./bringIn/FactsForm.tsx";
import { FileList } from "./bringIn/FileList.tsx";
import { filesFromDrop } from "./bringIn/filesFromDrop.ts";
import { HowRead } from "./bringIn/HowRead.tsx";
import type { CommonFacts, IncomingFile } from "./bringIn/IncomingFile.ts";
import { NamesByExample } from "./bringIn/NamesByExample.tsx";
import { namesOf, type ReadResult } from "./bringIn/carryOut.ts";
import { createReaders } from "./bringIn/createReaders.ts";
import { planOf, type PlanRow } from "./bringIn/planOf.ts";
import { PlanTable } from "./bringIn/PlanTable.tsx";
import { headsOf, rememberedRecipes, rememberRecipe, type RememberedRecipe } from "./bringIn/recipes.ts";
import { RememberRecipe } from "./bringIn/RememberRecipe.tsx";
import { isSearched, keepTrials } from "./bringIn/searchTrials.ts";
import { startReadWorker } from "./bringIn/startReadWorker.ts";
import { today } from "./bringIn/today.ts";
import { TypedTimes } from "./bringIn/TypedTimes.tsx";
import { CautionList } from "./CautionList.tsx";
import { sentenceOf, usePane } from "./PaneContext.tsx";
import { Section, ViewTitle } from "./SectionHead.tsx";
import { formatProtocol } from "../../src/protocols/formatProtocol.ts";
import { words } from "./words.ts";

const useStyles = makeStyles({
  drop: { display: "flex", flexDirection: "column", gap: "8px", padding: "12px", border: `1.5px dashed ${tokens.colorNeutralStrokeAccessible}`, borderRadius: tokens.borderRadiusMedium },
  over: { border: `1.5px solid ${tokens.colorBrandStroke1}`, backgroundColor: tokens.colorBrandBackground2 },
  buttons: { display: "flex", flexWrap: "wrap", gap: "8px" },
  quiet: { margin: 0, color: tokens.colorNeutralForeground2, fontSize: tokens.fontSizeBase200 },
  problem: { margin: "2px 0", padding: "4px 8px", backgroundColor: tokens.colorStatusWarningBackground1, color: tokens.colorNeutralForeground1, borderRadius: tokens.borderRadiusMedium, overflowWrap: "anywhere" },
  write: { position: "sticky", bottom: "-24px", zIndex: 2, display: "flex", flexDirection: "column", gap: "6px", marginTop: "12px", padding: "8px 0 12px", backgroundColor: tokens.colorNeutralBackground1 },
});

const NOTHING: CommonFacts = { athlete: "", date: "", test: "CMJ", arms: "", limb: "", dropHeight: "", load: "", mass: "" };
const NO_PLAN: ReadonlyMap<string, PlannedRow> = new Map();
/** Progress is shown once something takes longer than this, ms. */
const PATIENCE = 500;
/** Progress is shown anew at most this often, ms: drawing it must not hold up the work. */
const PACE = 100;

interface Progress {
  readonly done: number;
  readonly all: number;
  readonly what: string;
}

/** Files in, with what was read from them, whose they are, and what will be written; nothing is written before the button. */
export function BringInView(): ReactNode {
  const styles = useStyles();
  const { host, workbook, say, perform, go } = usePane();
  const [files, setFiles] = useState<readonly IncomingFile[]>([]);
  const [current, setCurrent] = useState<string | undefined>();
  const [common, setCommon] = useState<CommonFacts>(NOTHING);
  const [left, setLeft] = useState<ReadonlySet<string>>(new Set());
  const [known, setKnown] = useState<ReadonlySet<string>>(new Set());
  const [athletes, setAthletes] = useState<readonly { readonly name: string; readonly mass?: number }[]>([]);
  const [recipes, setRecipes] = useState<readonly RememberedRecipe[]>([]);
  const [pattern, setPattern] = useState("");
  const [over, setOver] = useState(false);
  const [progress, setProgress] = useState<Progress | undefined>();
  const [missing, setMissing] = useState(false);
  const [wrote, setWrote] = useState(false);
  const [planned, setPlanned] = useState<readonly PlannedRow[]>([]);
  const [fillPlan, setFillPlan] = useState(true);
  const stop = useRef<AbortController>();
  const [readers] = useState(() => createReaders({ start: startReadWorker }));
  const chooser = useRef<HTMLInputElement>(null);
  const folder = useRef<HTMLInputElement>(null);

  const readSheet = useCallback(async () => {
    try {
      const [trials, list, remembered, waiting] = await Promise.all([workbook.trials(), workbook.athletes(), rememberedRecipes(host), workbook.planned()]);
      setPlanned(waiting);
      setKnown(new Set(trials.map((trial) => trial.key)));
      const names = new Map<string, { readonly name: string; readonly mass?: number }>(list.map((athlete) => [athlete.name, athlete]));
      for (const trial of trials) if (trial.athlete !== "" && !names.has(trial.athlete)) names.set(trial.athlete, { name: trial.athlete });
      setAthletes([...names.values()].sort((a, b) => a.name.localeCompare(b.name)));
      setRecipes(remembered);
    } catch (thrown) {
      say({ kind: "problem", text: sentenceOf(thrown) });
    }
  }, [workbook, host, say]);
  useEffect(() => {
    void readSheet();
    return host.onChange(() => void readSheet());
  }, [host, readSheet]);
  useEffect(
    () => () => {
      stop.current?.abort();
      readers.end();
    },
    [readers],
  );

  /** Works through a list, a few files at once, with progress once it takes long, until it is cancelled; a fault of one file is that file's. */
  const through = useCallback(
    async (list: readonly IncomingFile[], change: (incoming: IncomingFile, signal: AbortSignal) => Promise<IncomingFile>): Promise<readonly IncomingFile[]> => {
      const controller = new AbortController();
      stop.current?.abort();
      stop.current = controller;
      let told = performance.now() + PATIENCE - PACE;
      let next = 0;
      let count = 0;
      const done: (IncomingFile | undefined)[] = list.map(() => undefined);
      const lane = async (): Promise<void> => {
        while (next < list.length && !controller.signal.aborted) {
          const place = next++;
          const incoming = list[place];
          try {
            done[place] = await change(incoming, controller.signal);
          } catch (thrown) {
            if (controller.signal.aborted) return;
            done[place] = { ...incoming, recording: undefined, trace: undefined, problem: sentenceOf(thrown) };
          }
          count++;
          if (performance.now() - told < PACE || controller.signal.aborted) continue;
          told = performance.now();
          setProgress({ done: count, all: list.length, what: words.bringIn.reading(incoming.file.name) });
        }
      };
      await Promise.all(Array.from({ length: readers.atOnce }, lane));
      if (stop.current === controller) setProgress(undefined);
      return done.filter((incoming) => incoming !== undefined);
    },
    [readers],
  );
  /** The file once its trials are searched for this test, so that drawing the list does not wait for it. */
  const searched = useCallback(
    async (incoming: IncomingFile, commonTest: Test, signal: AbortSignal): Promise<IncomingFile> => {
      const { trace, test = commonTest } = incoming;
      return trace === undefined || isSearched(trace, test) ? incoming : withResult(incoming, await readers.run({ kind: "search", trace, test }, signal));
    },
    [readers],
  );

  const add = useCallback(
    async (chosen: readonly File[]) => {
      if (chosen.length === 0) return;
      setWrote(false);
      const fresh = chosen.map((file): IncomingFile => {
        const path = file.webkitRelativePath === "" ? file.name : file.webkitRelativePath;
        return { id: `${path} ${file.size} ${file.lastModified}`, file, path, recipe: {}, athlete: "", date: dateInName(path) };
      });
      const named = await through(fresh, async (incoming, signal) => withResult(incoming, await readers.run({ kind: "read", file: incoming.file, path: incoming.path, remembered: recipes, test: common.test }, signal)));
      setFiles((before) => [...before, ...named.filter((incoming, place) => !before.some((other) => other.id === incoming.id) && named.findIndex((other) => other.id === incoming.id) === place)]);
      setCurrent((before) => before ?? (named.length === 1 ? named[0].id : named.find((incoming) => incoming.problem !== undefined && incoming.recording !== undefined)?.id));
      setCommon((before) => (before.date === "" && named[0] !== undefined ? { ...before, date: today(named[0].file.lastModified) } : before));
    },
    [through, readers, recipes, common.test],
  );
  const drop = async (event: DragEvent): Promise<void> => {
    event.preventDefault();
    setOver(false);
    await add(await filesFromDrop(event.dataTransfer));
  };
  const correct = async (id: string, recipe: ImportRecipe, all: boolean): Promise<void> => {
    const wanted = files.filter((incoming) => all || incoming.id === id);
    const read = await through(wanted, async (incoming, signal) => withResult(incoming, await readers.run({ kind: "read", file: incoming.file, path: incoming.path, recipe, remembered: [], test: incoming.test ?? common.test }, signal)));
    const byId = new Map(read.map((incoming) => [incoming.id, incoming]));
    setFiles((before) => before.map((incoming) => byId.get(incoming.id) ?? incoming));
  };
  const own = useCallback((id: string, change: Partial<IncomingFile>) => setFiles((before) => before.map((incoming) => (incoming.id === id ? { ...incoming, ...change } : incoming))), []);
  const remove = useCallback((id: string) => setFiles((before) => before.filter((other) => other.id !== id)), []);
  const leave = useCallback(
    (key: string, out: boolean) =>
      setLeft((before) => {
        const next = new Set(before);
        if (out) next.add(key);
        else next.delete(key);
        return next;
      }),
    [],
  );
  const clear = (): void => {
    stop.current?.abort();
    setFiles([]);
    setCurrent(undefined);
    setLeft(new Set());
    setMissing(false);
  };

  const facts = useMemo(() => factsOf(common), [common]);
  // The table may lag behind the typing of names by a moment; what is written never does.
  const settledFiles = useDeferredValue(files);
  const settledCommon = useDeferredValue(common);
  const plan = useMemo(() => {
    try {
      const masses = new Map(athletes.flatMap((athlete) => (athlete.mass === undefined ? [] : [[athlete.name, athlete.mass] as const])));
      return { rows: planOf(settledFiles, settledCommon, known, masses) };
    } catch (thrown) {
      return { rows: [] as readonly PlanRow[], problem: sentenceOf(thrown) };
    }
  }, [settledFiles, settledCommon, known, athletes]);
  const chosen = useMemo(() => plan.rows.filter((row) => !row.already && !left.has(row.key)), [plan, left]);
  const meant = useMemo(() => {
    const matches = matchPlanned(chosen.map((row) => row.draft), planned);
    return new Map(chosen.flatMap((row, place) => (matches[place] === undefined ? [] : [[row.key, matches[place]] as const])));
  }, [chosen, planned]);
  const fills = fillPlan ? meant : NO_PLAN;
  const drafts = chosen.map((row): TrialDraft => {
    const into = fills.get(row.key);
    return into === undefined ? row.draft : { ...filledFrom(row.draft, into), fills: into.row };
  });
  const nameless = chosen.some((row) => row.draft.athlete === "");
  const currentFile = files.find((incoming) => incoming.id === current);
  const tests = [...new Set(chosen.map((row) => row.draft.protocol.test))];

  const write = async (): Promise<void> => {
    // Not before the table has caught up with what was typed.
    if (settledFiles !== files || settledCommon !== common) return;
    if (nameless || Object.keys(facts.problems).length > 0) {
      setMissing(true);
      return;
    }
    const controller = new AbortController();
    stop.current = controller;
    const began = performance.now();
    try {
      const receipt = await workbook.addTrials(drafts, {
        label: words.bringIn.label(chosen.length),
        signal: controller.signal,
        onProgress: (fraction) => performance.now() - began > PATIENCE && setProgress({ done: Math.round(fraction * chosen.length), all: chosen.length, what: words.bringIn.writing }),
      });
      const again = receipt.duplicates.length > 0 ? ` ${words.bringIn.duplicates(receipt.duplicates.length)}.` : "";
      say({ kind: "done", text: `${words.bringIn.written(receipt.written)}.${again}`, applied: receipt.applied });
      clear();
      setWrote(true);
    } catch (thrown) {
      say({ kind: "problem", text: controller.signal.aborted ? words.bringIn.cancelled : sentenceOf(thrown) });
    }
    setProgress(undefined);
  };

  return (
    <>
      <ViewTitle>{words.bringIn.title}</ViewTitle>
      <div
        className={mergeClasses(styles.drop, over && styles.over)}
        onDragOver={(event) => {
          event.preventDefault();
          setOver(true);
        }}
        onDragLeave={() => setOver(false)}
        onDrop={(event) => void drop(event)}
      >
        <div className={styles.buttons}>
          <Button appearance={files.length === 0 ? "primary" : "secondary"} size="small" icon={<DocumentAdd20Regular />} onClick={() => chooser.current?.click()}>
            {words.bringIn.choose}
          </Button>
          <Button size="small" icon={<FolderAdd20Regular />} onClick={() => folder.current?.click()}>
            {words.bringIn.chooseFolder}
          </Button>
        </div>
        <p className={styles.quiet}>
          {words.bringIn.drop}. {words.bringIn.dropHint(MAX_RECORDING_BYTES / 2 ** 20)}
        </p>
        <input ref={chooser} type="file" multiple hidden data-test="files" aria-label={words.bringIn.choose} onChange={(event) => take(event.target, add)} />
        <input ref={folder} type="file" multiple hidden aria-label={words.bringIn.chooseFolder} {...{ webkitdirectory: "" }} onChange={(event) => take(event.target, add)} />
      </div>
      {progress !== undefined && (
        <div role="status" style={{ marginTop: 8 }}>
          <ProgressBar aria-label={progress.what} value={progress.done} max={progress.all} />
          <p className={styles.quiet}>
            {progress.what}: {words.bringIn.progress(progress.done, progress.all)}{" "}
            <Button size="small" appearance="transparent" onClick={() => stop.current?.abort()}>
              {words.bringIn.cancel}
            </Button>
          </p>
        </div>
      )}
      {wrote && files.length === 0 && (
        <p>
          <Button appearance="primary" size="small" onClick={() => go("trials")}>
            {words.bringIn.seeTrials}
          </Button>
        </p>
      )}
      {files.length === 0 && <TypedTimes athletes={athletes} planned={planned} />}

      {files.length > 0 && (
        <>
          <Section heading={`${words.bringIn.files} (${files.length})`}>
            <FileList
              files={files}
              rows={plan.rows}
              common={common}
              current={current}
              onCurrent={setCurrent}
              onOwn={own}
              onRemove={remove}
            />
            <Button size="small" appearance="subtle" onClick={clear}>
              {words.bringIn.clear}
            </Button>
            {files.length > 1 && (
              <NamesByExample
                files={files}
                onApply={(built) => {
                  setPattern(built);
                  void through(files, async (incoming, signal) => searched({ ...incoming, ...namesOf(built, incoming.path) }, common.test, signal)).then((named) => {
                    const byId = new Map(named.map((incoming) => [incoming.id, incoming]));
                    setFiles((before) => before.map((incoming) => byId.get(incoming.id) ?? incoming));
                  });
                }}
              />
            )}
          </Section>

          {currentFile?.recording !== undefined && (
            <>
              <HowRead key={currentFile.id} incoming={currentFile} windows={plan.rows.filter((row) => row.fileId === currentFile.id && row.found)} several={files.length > 1} onCorrect={(recipe, all) => void correct(currentFile.id, recipe, all)} />
              <RememberRecipe
                key={`${currentFile.id} ${currentFile.remembered ?? ""}`}
                name={currentFile.remembered ?? ""}
                onRemember={(name) => void perform(() => rememberRecipe(host, { name, heads: headsOf(currentFile.recording!), recipe: currentFile.recording!.recipe, pattern }), words.bringIn.remembered(name))}
              />
            </>
          )}

          <Section heading={words.bringIn.facts}>
            <FactsForm
              common={common}
              athletes={athletes}
              nameless={missing && nameless}
              onChange={(change) => {
                const mass = change.athlete === undefined ? undefined : athletes.find((athlete) => athlete.name === change.athlete)?.mass;
                const apply = (): void => setCommon((before) => ({ ...before, ...change, ...(mass === undefined || files.length > 1 ? {} : { mass: String(mass) }) }));
                setMissing(false);
                // Another test means another search in every file.
                if (change.test === undefined || files.length < 20) apply();
                else void through(files, async (incoming, signal) => searched(incoming, change.test!, signal)).then(apply);
              }}
            />
          </Section>
          {(tests.length === 0 ? [common.test] : tests).map((test) => (
            <CautionList key={test} test={test} heading={tests.length > 1 ? `${words.bringIn.cautions}: ${testName(test)}` : words.bringIn.cautions} />
          ))}

          <Section heading={words.bringIn.willWrite}>
            {plan.problem !== undefined && <p role="alert">{plan.problem}</p>}
            <p className={styles.quiet}>
              {words.bringIn.willWriteHint(chosen.length)} {"\u00b7"} {[...new Set(drafts.map((draft) => formatProtocol(draft.protocol)))].join("; ")}
            </p>
            {meant.size > 0 && <Checkbox label={words.bringIn.fillPlan(meant.size)} checked={fillPlan} onChange={(_, data) => setFillPlan(data.checked === true)} />}
            <PlanTable
              rows={plan.rows}
              left={left}
              fills={fills}
              onLeave={leave}
            />
          </Section>
          <div className={styles.write}>
            {missing && nameless && (
              <p className={styles.problem} role="alert">
                {words.bringIn.athleteMissing}
              </p>
            )}
            <Button appearance="primary" disabledFocusable={chosen.length === 0 || progress !== undefined} onClick={() => void write()}>
              {words.bringIn.write(chosen.length)}
            </Button>
          </div>
        </>
      )}
    </>
  );
}

/** A file with what a reader found in it; its trials are kept for the table. */
function withResult(incoming: IncomingFile, { reading, test, trials }: ReadResult): IncomingFile {
  const read = { ...incoming, ...reading };
  if (read.trace !== undefined) keepTrials(read.trace, test, trials);
  return read;
}

function take(input: HTMLInputElement, add: (files: readonly File[]) => Promise<void>): void {
  const chosen = [...(input.files ?? [])];
  // The same file may be chosen again.
  input.value = "";
  void add(chosen);
}
