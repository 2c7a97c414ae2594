import { useCallback, useEffect, useMemo, useRef, useState, type DragEvent, type ReactNode } from "react";
import { Button, Checkbox, Field, Input, makeStyles, mergeClasses, ProgressBar, Select, tokens } from "@fluentui/react-components";
import { Dismiss16Regular, DocumentAdd20Regular, FolderAdd20Regular } from "@fluentui/react-icons";
import { TESTS, type Test } from "../../src/protocols/Protocol.ts";
import { MAX_RECORDING_BYTES } from "../../src/read/limits.ts";
import { formatProtocol } from "../../src/protocols/formatProtocol.ts";
import { testName } from "../../src/wording/testName.ts";
import { tracePicture } from "../plots/tracePicture.ts";
import { dateInName } from "./bringIn/dateInName.ts";
import { factsOf } from "./bringIn/factsOf.ts";
import { filesFromDrop } from "./bringIn/filesFromDrop.ts";
import { HowRead } from "./bringIn/HowRead.tsx";
import type { CommonFacts, IncomingFile } from "./bringIn/IncomingFile.ts";
import { planOf, type PlanRow } from "./bringIn/planOf.ts";
import { readFile } from "./bringIn/readFile.ts";
import { CautionList } from "./CautionList.tsx";
import { formatNumber } from "./format.ts";
import { sentenceOf, usePane } from "./PaneContext.tsx";
import { Section, ViewTitle } from "./SectionHead.tsx";
import { words } from "./words.ts";

const useStyles = makeStyles({
  drop: { display: "flex", flexDirection: "column", gap: "8px", padding: "12px", border: `1.5px dashed ${tokens.colorNeutralStrokeAccessible}`, borderRadius: tokens.borderRadiusMedium },
  over: { border: `1.5px solid ${tokens.colorBrandStroke1}`, backgroundColor: tokens.colorBrandBackground2 },
  buttons: { display: "flex", flexWrap: "wrap", gap: "8px" },
  quiet: { margin: 0, color: tokens.colorNeutralForeground2, fontSize: tokens.fontSizeBase200 },
  files: { listStyle: "none", margin: 0, padding: 0, maxHeight: "320px", overflowY: "auto" },
  file: { padding: "6px 0", borderBottom: `1px solid ${tokens.colorNeutralStroke3}`, contentVisibility: "auto", containIntrinsicSize: "auto 60px" },
  fileHead: { display: "flex", alignItems: "center", gap: "6px" },
  fileName: { flex: "1 1 auto", minWidth: 0, overflowWrap: "anywhere", border: "none", background: "none", padding: "4px 2px", font: "inherit", color: "inherit", textAlign: "left", cursor: "pointer", borderRadius: tokens.borderRadiusSmall, ":hover": { textDecorationLine: "underline" }, ":focus-visible": { outline: `2px solid ${tokens.colorStrokeFocus2}` } },
  current: { fontWeight: tokens.fontWeightSemibold },
  picture: { flexShrink: 0, width: "48px", height: "24px", color: tokens.colorNeutralForeground2, backgroundColor: tokens.colorNeutralBackground3 },
  problem: { margin: "2px 0", padding: "4px 8px", backgroundColor: tokens.colorStatusWarningBackground1, color: tokens.colorNeutralForeground1, borderRadius: tokens.borderRadiusMedium, overflowWrap: "anywhere" },
  own: { display: "flex", gap: "6px", "& > *": { minWidth: 0, flex: "1 1 0" }, "& input": { minWidth: 0, width: "100%" } },
  grid: { display: "grid", gridTemplateColumns: "repeat(auto-fit, minmax(120px, 1fr))", gap: "8px", alignItems: "start", "& > *": { minWidth: 0 }, "& .fui-Input": { minWidth: 0, width: "100%" }, "& input": { minWidth: 0, width: "100%" }, "& select": { minWidth: 0 } },
  wide: { gridColumn: "1 / -1" },
  scroll: { overflowX: "auto", maxHeight: "360px" },
  table: { width: "100%", borderCollapse: "collapse", fontSize: tokens.fontSizeBase200, fontVariantNumeric: "tabular-nums", "& th, & td": { padding: "3px 4px", textAlign: "left", verticalAlign: "top", borderBottom: `1px solid ${tokens.colorNeutralStroke3}` }, "& thead th": { position: "sticky", top: 0, backgroundColor: tokens.colorNeutralBackground1 }, "& tbody th": { fontWeight: tokens.fontWeightRegular, overflowWrap: "anywhere" } },
  write: { position: "sticky", bottom: "-24px", display: "flex", flexDirection: "column", gap: "6px", marginTop: "12px", padding: "8px 0 12px", backgroundColor: tokens.colorNeutralBackground1 },
});

const NOTHING: CommonFacts = { athlete: "", date: "", test: "CMJ", arms: "", limb: "", dropHeight: "", load: "", mass: "" };
/** Progress is shown once something takes longer than this, ms. */
const PATIENCE = 500;

interface Progress {
  readonly done: number;
  readonly all: number;
  readonly what: string;
}

/** Files in, with what was read from them, whose they are, and what will be written; nothing is written before the button. */
export function BringInView(): ReactNode {
  const styles = useStyles();
  const { host, workbook, say, go } = usePane();
  const [files, setFiles] = useState<readonly IncomingFile[]>([]);
  const [current, setCurrent] = useState<string | undefined>();
  const [common, setCommon] = useState<CommonFacts>(NOTHING);
  const [left, setLeft] = useState<ReadonlySet<string>>(new Set());
  const [known, setKnown] = useState<ReadonlySet<string>>(new Set());
  const [athletes, setAthletes] = useState<readonly { name: string; mass?: number }[]>([]);
  const [over, setOver] = useState(false);
  const [progress, setProgress] = useState<Progress | undefined>();
  const [missing, setMissing] = useState(false);
  const [wrote, setWrote] = useState(false);
  const stop = useRef<AbortController>();
  const chooser = useRef<HTMLInputElement>(null);
  const folder = useRef<HTMLInputElement>(null);

  const readKnown = useCallback(async () => {
    try {
      const [trials, list] = await Promise.all([workbook.trials(), workbook.athletes()]);
      setKnown(new Set(trials.map((trial) => trial.key)));
      const names = new Map<string, { name: string; mass?: number }>(list.map((athlete) => [athlete.name, athlete]));
      for (const trial of trials) if (trial.athlete !== "" && !names.has(trial.athlete)) names.set(trial.athlete, { name: trial.athlete });
      setAthletes([...names.values()].sort((a, b) => a.name.localeCompare(b.name)));
    } catch (thrown) {
      say({ kind: "problem", text: sentenceOf(thrown) });
    }
  }, [workbook, say]);
  useEffect(() => {
    void readKnown();
    return host.onChange(() => void readKnown());
  }, [host, readKnown]);
  useEffect(() => () => stop.current?.abort(), []);

  /** Works through a list a file at a time, with progress once it takes long, until it is cancelled. */
  const through = useCallback(async (list: readonly IncomingFile[], change: (incoming: IncomingFile) => Promise<IncomingFile>): Promise<readonly IncomingFile[]> => {
    const controller = new AbortController();
    stop.current?.abort();
    stop.current = controller;
    const began = performance.now();
    let rested = began;
    const done: IncomingFile[] = [];
    for (const incoming of list) {
      if (controller.signal.aborted) break;
      done.push(await change(incoming));
      const now = performance.now();
      if (now - began > PATIENCE) setProgress({ done: done.length, all: list.length, what: words.bringIn.reading(incoming.file.name) });
      if (now - rested > 12) {
        await new Promise((resolve) => setTimeout(resolve));
        rested = performance.now();
      }
    }
    setProgress(undefined);
    return done;
  }, []);

  const add = useCallback(
    async (chosen: readonly File[]) => {
      if (chosen.length === 0) return;
      setWrote(false);
      const fresh = chosen.map((file, place): IncomingFile => {
        const path = file.webkitRelativePath === "" ? file.name : file.webkitRelativePath;
        return { id: `${path} ${file.size} ${file.lastModified} ${place}`, file, path, recipe: {}, athlete: "", date: dateInName(path) };
      });
      const read = await through(fresh, (incoming) => readFile(incoming, {}));
      setFiles((before) => [...before, ...read.filter((incoming) => !before.some((other) => other.id === incoming.id))]);
      setCurrent((before) => before ?? (read.find((incoming) => incoming.problem !== undefined) ?? read[0])?.id);
      setCommon((before) => (before.date === "" && read[0] !== undefined ? { ...before, date: dayOf(read[0].file.lastModified) } : before));
    },
    [through],
  );
  const drop = async (event: DragEvent): Promise<void> => {
    event.preventDefault();
    setOver(false);
    await add(await filesFromDrop(event.dataTransfer));
  };
  const correct = async (id: string, recipe: IncomingFile["recipe"], all: boolean): Promise<void> => {
    const wanted = files.filter((incoming) => all || incoming.id === id);
    const read = await through(wanted, (incoming) => readFile(incoming, recipe));
    const byId = new Map(read.map((incoming) => [incoming.id, incoming]));
    setFiles((before) => before.map((incoming) => byId.get(incoming.id) ?? incoming));
  };
  const own = (id: string, change: Partial<Pick<IncomingFile, "athlete" | "date">>): void => setFiles((before) => before.map((incoming) => (incoming.id === id ? { ...incoming, ...change } : incoming)));

  const facts = useMemo(() => factsOf(common), [common]);
  const plan = useMemo(() => {
    try {
      return { rows: planOf(files, common, facts, known) };
    } catch (thrown) {
      return { rows: [] as readonly PlanRow[], problem: sentenceOf(thrown) };
    }
  }, [files, common, facts, known]);
  const chosen = plan.rows.filter((row) => !row.already && !left.has(row.key));
  const nameless = chosen.some((row) => row.draft.athlete === "");
  const currentFile = files.find((incoming) => incoming.id === current);
  const wrong = Object.values(facts.problems).length > 0;

  const write = async (): Promise<void> => {
    if (nameless || wrong) {
      setMissing(true);
      return;
    }
    const controller = new AbortController();
    stop.current = controller;
    const began = performance.now();
    try {
      const receipt = await workbook.addTrials(chosen.map((row) => row.draft), {
        label: words.bringIn.label(chosen.length),
        signal: controller.signal,
        onProgress: (fraction) => performance.now() - began > PATIENCE && setProgress({ done: Math.round(fraction * chosen.length), all: chosen.length, what: words.bringIn.writing }),
      });
      const again = receipt.duplicates.length > 0 ? ` ${words.bringIn.duplicates(receipt.duplicates.length)}.` : "";
      say({ kind: "done", text: `${words.bringIn.written(receipt.written)}.${again}`, applied: receipt.applied });
      setFiles([]);
      setCurrent(undefined);
      setLeft(new Set());
      setWrote(true);
    } catch (thrown) {
      say({ kind: "problem", text: controller.signal.aborted ? words.bringIn.cancelled : sentenceOf(thrown) });
    }
    setProgress(undefined);
  };

  const set = <K extends keyof CommonFacts>(key: K, value: CommonFacts[K]): void => setCommon((before) => ({ ...before, [key]: value }));
  const setAthlete = (name: string): void => {
    const mass = athletes.find((athlete) => athlete.name === name)?.mass;
    setCommon((before) => ({ ...before, athlete: name, ...(mass !== undefined ? { mass: String(mass) } : {}) }));
    setMissing(false);
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

      {files.length > 0 && (
        <>
          <Section heading={`${words.bringIn.files} (${files.length})`}>
            <ul className={styles.files}>
              {files.map((incoming) => {
                const found = plan.rows.filter((row) => row.fileId === incoming.id);
                return (
                  <li key={incoming.id} className={styles.file}>
                    <div className={styles.fileHead}>
                      {incoming.trace !== undefined && (
                        <svg className={styles.picture} viewBox="0 0 48 24" aria-hidden="true" focusable="false">
                          <path d={tracePicture(incoming.trace.plates[0].force, 48, 24)} fill="none" stroke="currentColor" strokeWidth="1" />
                        </svg>
                      )}
                      <button type="button" className={mergeClasses(styles.fileName, incoming.id === current && styles.current)} aria-expanded={incoming.id === current} onClick={() => setCurrent(incoming.id === current ? undefined : incoming.id)}>
                        {incoming.path}
                        <span className={styles.quiet}> {incoming.trace === undefined ? "" : `(${words.bringIn.found(found.filter((row) => row.found).length)})`}</span>
                      </button>
                      <Button size="small" appearance="subtle" icon={<Dismiss16Regular />} aria-label={words.bringIn.remove(incoming.file.name)} onClick={() => setFiles((before) => before.filter((other) => other.id !== incoming.id))} />
                    </div>
                    {incoming.problem !== undefined && (
                      <p className={styles.problem} role="alert">
                        {words.bringIn.cannotRead(incoming.file.name)}: {incoming.problem}{" "}
                        {incoming.recording !== undefined && incoming.id !== current && (
                          <Button size="small" onClick={() => setCurrent(incoming.id)}>
                            {words.bringIn.correct}
                          </Button>
                        )}
                      </p>
                    )}
                    {files.length > 1 && incoming.trace !== undefined && (
                      <div className={styles.own}>
                        <Input size="small" list="leapsheet-athletes" autoComplete="off" aria-label={`${words.bringIn.athlete}, ${incoming.file.name}`} placeholder={common.athlete === "" ? words.bringIn.athlete : common.athlete} value={incoming.athlete} onChange={(_, data) => own(incoming.id, { athlete: data.value })} />
                        <Input size="small" type="date" aria-label={`${words.bringIn.date}, ${incoming.file.name}`} value={incoming.date || common.date} onChange={(_, data) => own(incoming.id, { date: data.value })} />
                      </div>
                    )}
                  </li>
                );
              })}
            </ul>
            <Button
              size="small"
              appearance="subtle"
              onClick={() => {
                stop.current?.abort();
                setFiles([]);
                setCurrent(undefined);
                setLeft(new Set());
              }}
            >
              {words.bringIn.clear}
            </Button>
          </Section>

          {currentFile?.recording !== undefined && (
            <HowRead key={currentFile.id} incoming={currentFile} windows={plan.rows.filter((row) => row.fileId === currentFile.id && row.found)} several={files.length > 1} onCorrect={(recipe, all) => void correct(currentFile.id, recipe, all)} />
          )}

          <Section heading={words.bringIn.facts}>
            <datalist id="leapsheet-athletes">
              {athletes.map((athlete) => (
                <option key={athlete.name} value={athlete.name} />
              ))}
            </datalist>
            <div className={styles.grid}>
              <Field className={styles.wide} label={words.bringIn.athlete} hint={words.bringIn.athleteHint} required validationState={missing && nameless ? "error" : "none"} validationMessage={missing && nameless ? words.bringIn.athleteMissing : undefined}>
                <Input size="small" list="leapsheet-athletes" autoComplete="off" value={common.athlete} onChange={(_, data) => setAthlete(data.value)} />
              </Field>
              <Field className={styles.wide} label={words.bringIn.test}>
                <Select size="small" value={common.test} onChange={(_, data) => set("test", data.value as Test)}>
                  {TESTS.map((test) => (
                    <option key={test} value={test}>
                      {testName(test)}
                    </option>
                  ))}
                </Select>
              </Field>
              {common.test !== "IMTP" && (
                <Field label={words.bringIn.arms}>
                  <Select size="small" value={common.arms} onChange={(_, data) => set("arms", data.value as CommonFacts["arms"])}>
                    <option value="">{words.bringIn.notStated}</option>
                    <option value="hips">{words.bringIn.armsHips}</option>
                    <option value="swing">{words.bringIn.armsSwing}</option>
                  </Select>
                </Field>
              )}
              <Field label={words.bringIn.limb}>
                <Select size="small" value={common.limb} onChange={(_, data) => set("limb", data.value as CommonFacts["limb"])}>
                  <option value="">{words.bringIn.notStated}</option>
                  <option value="both">{words.bringIn.limbBoth}</option>
                  <option value="left">{words.bringIn.limbLeft}</option>
                  <option value="right">{words.bringIn.limbRight}</option>
                </Select>
              </Field>
              {common.test === "DJ" && <Number label={words.bringIn.dropHeight} value={common.dropHeight} problem={facts.problems.dropHeight} onChange={(value) => set("dropHeight", value)} />}
              <Number label={words.bringIn.load} value={common.load} problem={facts.problems.load} onChange={(value) => set("load", value)} />
              <Number label={words.bringIn.mass} value={common.mass} problem={facts.problems.mass} onChange={(value) => set("mass", value)} hint={words.bringIn.massHint} />
              <Field label={words.bringIn.date}>
                <Input size="small" type="date" value={common.date} onChange={(_, data) => set("date", data.value)} />
              </Field>
            </div>
          </Section>
          <CautionList test={common.test} heading={words.bringIn.cautions} />

          <Section heading={words.bringIn.willWrite}>
            {plan.problem !== undefined && <p role="alert">{plan.problem}</p>}
            <p className={styles.quiet}>
              {words.bringIn.willWriteHint(chosen.length)} {"\u00b7"} {formatProtocol(facts.protocol)}
            </p>
            <div className={styles.scroll} tabIndex={0} role="group" aria-label={words.bringIn.willWrite}>
              <table className={styles.table}>
                <thead>
                  <tr>
                    <th scope="col">{words.bringIn.use}</th>
                    <th scope="col">{words.bringIn.athlete}</th>
                    <th scope="col">{words.bringIn.file}</th>
                    <th scope="col">{words.bringIn.start}</th>
                    <th scope="col">{words.bringIn.length}</th>
                  </tr>
                </thead>
                <tbody>
                  {plan.rows.map((row, place) => (
                    <tr key={`${row.key} ${place}`}>
                      <td>
                        <Checkbox
                          aria-label={`${words.bringIn.use}: ${row.draft.file}, ${formatNumber(row.draft.startInFile, 2)} s`}
                          checked={!row.already && !left.has(row.key)}
                          disabled={row.already}
                          onChange={(_, data) =>
                            setLeft((before) => {
                              const next = new Set(before);
                              if (data.checked === true) next.delete(row.key);
                              else next.add(row.key);
                              return next;
                            })
                          }
                        />
                      </td>
                      <td>{row.draft.athlete === "" ? "\u2013" : row.draft.athlete}</td>
                      <th scope="row">
                        {row.draft.file}
                        {row.already && <div className={styles.quiet}>{words.bringIn.already}</div>}
                        {row.note !== undefined && <div className={styles.quiet}>{row.note}</div>}
                        {!row.found && <div className={styles.quiet}>{words.bringIn.found(0)}</div>}
                      </th>
                      <td>{formatNumber(row.draft.startInFile, 2)}</td>
                      <td>{formatNumber(row.length, 1)}</td>
                    </tr>
                  ))}
                </tbody>
              </table>
            </div>
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

function Number({ label, value, problem, hint, onChange }: { readonly label: string; readonly value: string; readonly problem?: string; readonly hint?: string; readonly onChange: (value: string) => void }): ReactNode {
  return (
    <Field label={label} hint={hint} validationState={problem === undefined ? "none" : "error"} validationMessage={problem}>
      <Input size="small" inputMode="decimal" value={value} onChange={(_, data) => onChange(data.value)} />
    </Field>
  );
}

function take(input: HTMLInputElement, add: (files: readonly File[]) => Promise<void>): void {
  const chosen = [...(input.files ?? [])];
  // The same file may be chosen again.
  input.value = "";
  void add(chosen);
}

/** Local day of an instant, as an ISO date. */
function dayOf(milliseconds: number): string {
  const date = new Date(milliseconds);
  const two = (value: number): string => String(value).padStart(2, "0");
  return `${date.getFullYear()}-${two(date.getMonth() + 1)}-${two(date.getDate())}`;
}
