import { useRef, useState, type ReactNode } from "react";
import { Button, Checkbox, Field, Input, makeStyles, ProgressBar, Select, Textarea, tokens } from "@fluentui/react-components";
import { zipSync } from "fflate";
import { FUNCTIONS } from "../../functions/index.ts";
import { COURSEWORK_FAULTS } from "../../src/coursework/Coursework.ts";
import { faultsOf } from "../../src/coursework/faultsOf.ts";
import { makeCoursework } from "../../src/coursework/makeCoursework.ts";
import { markAssignment, type MarkedAssignment } from "../../src/coursework/markAssignment.ts";
import { markRecording } from "../../src/coursework/markRecording.ts";
import { TESTS, type Test } from "../../src/protocols/Protocol.ts";
import { checkRecordingSize } from "../../src/read/limits.ts";
import { recordingSentence } from "../../src/wording/recordingSentence.ts";
import { testName } from "../../src/wording/testName.ts";
import type { WorkbookFile } from "../../src/workbook/WorkbookFile.ts";
import { inWorker } from "../workbook/inWorker.ts";
import { sentenceOf, usePane } from "./PaneContext.tsx";
import { Section, ViewTitle } from "./SectionHead.tsx";
import { answersFrom } from "./teach/answersFrom.ts";
import { courseworkPlan, drawSeed, type CourseworkForm } from "./teach/courseworkForm.ts";
import { keysFrom, keyWorkbook } from "./teach/keyWorkbook.ts";
import { marksEdits, marksWorkbook } from "./teach/marksWorkbook.ts";
import { fileNameOf, saveFile, XLSX } from "./teach/saveFile.ts";
import { studentWorkbook } from "./teach/studentWorkbook.ts";
import { metricName } from "./texts.ts";
import { words } from "./words.ts";

const useStyles = makeStyles({
  quiet: { margin: "0 0 8px", color: tokens.colorNeutralForeground2, fontSize: tokens.fontSizeBase200 },
  grid: { display: "grid", gridTemplateColumns: "1fr 1fr", gap: "8px", alignItems: "start", "& > *": { minWidth: 0 }, "& .fui-Input": { minWidth: 0, width: "100%" }, "& input[type=text]": { minWidth: 0, width: "100%" }, "& .fui-Select": { minWidth: 0 }, "& select": { minWidth: 0 } },
  wide: { gridColumn: "1 / -1" },
  faults: { display: "flex", flexWrap: "wrap", gap: "0 8px", margin: 0, padding: 0, border: "none", "& legend": { padding: 0 } },
  buttons: { display: "flex", flexWrap: "wrap", gap: "8px", marginTop: "8px" },
  problems: { margin: "8px 0", paddingLeft: "18px" },
  scroll: { overflowX: "auto", marginTop: "8px" },
  table: { width: "100%", borderCollapse: "collapse", fontSize: tokens.fontSizeBase200, "& th, & td": { padding: "3px 4px", textAlign: "left", verticalAlign: "top", borderBottom: `1px solid ${tokens.colorNeutralStroke3}` }, "& tbody th": { fontWeight: tokens.fontWeightRegular } },
});

/** Our functions as a workbook file needs them: names; which of them fill cells does not matter where values are read or written. */
const NAMES: ReadonlyMap<string, boolean> = new Map([...FUNCTIONS.keys()].map((name) => [name, false]));
const TYPE = "application/zip";

/** Coursework for a group, each with a recording of their own, and the marking of what comes back. */
export function TeachView(): ReactNode {
  return (
    <>
      <ViewTitle>{words.teach.view}</ViewTitle>
      <Make />
      <Marking />
    </>
  );
}

function Make(): ReactNode {
  const styles = useStyles();
  const { say } = usePane();
  const [form, setForm] = useState<CourseworkForm>({ test: "CMJ", students: "", size: "", noise: "1", seed: "", faults: new Set() });
  const [progress, setProgress] = useState<{ readonly done: number; readonly all: number } | undefined>();
  const [problem, setProblem] = useState<string | undefined>();
  const change = (part: Partial<CourseworkForm>): void => {
    setProblem(undefined);
    setForm((before) => ({ ...before, ...part }));
  };

  const make = async (): Promise<void> => {
    setProblem(undefined);
    try {
      const plan = courseworkPlan(form, drawSeed);
      const { assignments, keys } = makeCoursework(plan);
      const files: Record<string, Uint8Array> = {};
      for (const [place, assignment] of assignments.entries()) {
        setProgress({ done: place, all: assignments.length });
        files[`${String(place + 1).padStart(3, "0")} ${fileNameOf(assignment.student)}.xlsx`] = await bytesOf(studentWorkbook(assignment));
      }
      const key = await bytesOf(keyWorkbook(keys, plan));
      saveFile(`coursework ${plan.test}.zip`, zipSync(files, { level: 0 }), TYPE);
      saveFile(`coursework ${plan.test} key.xlsx`, key, XLSX);
      say({ kind: "done", text: words.teach.made(assignments.length) });
    } catch (thrown) {
      setProblem(sentenceOf(thrown));
    }
    setProgress(undefined);
  };

  return (
    <Section heading={words.teach.make}>
      <p className={styles.quiet}>{words.teach.makeHint}</p>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          void make();
        }}
      >
        <div className={styles.grid}>
          <Field className={styles.wide} label={words.bringIn.test}>
            <Select size="small" value={form.test} onChange={(_, data) => change({ test: data.value as Test })}>
              {TESTS.map((each) => (
                <option key={each} value={each}>
                  {testName(each)}
                </option>
              ))}
            </Select>
          </Field>
          <Field className={styles.wide} label={words.teach.students} hint={words.teach.studentsHint}>
            <Textarea rows={4} value={form.students} onChange={(_, data) => change({ students: data.value })} />
          </Field>
          <Field label={words.teach.size}>
            <Input size="small" type="text" inputMode="numeric" value={form.size} onChange={(_, data) => change({ size: data.value })} />
          </Field>
          <Field label={words.teach.noise}>
            <Input size="small" type="text" inputMode="decimal" value={form.noise} onChange={(_, data) => change({ noise: data.value })} />
          </Field>
          <Field className={styles.wide} label={words.teach.seed} hint={words.teach.seedHint}>
            <Input size="small" type="text" inputMode="numeric" autoComplete="off" value={form.seed} onChange={(_, data) => change({ seed: data.value })} />
          </Field>
        </div>
        <fieldset className={styles.faults}>
          <legend>{words.teach.faults}</legend>
          {faultsOf(form.test).map((fault) => (
            <Checkbox
              key={fault}
              label={words.teach.faultNames[fault]}
              checked={form.faults.has(fault)}
              onChange={(_, data) => change({ faults: new Set(COURSEWORK_FAULTS.filter((each) => (each === fault ? data.checked === true : form.faults.has(each)))) })}
            />
          ))}
        </fieldset>
        {progress !== undefined && <ProgressBar aria-label={words.pane.working} value={progress.done} max={progress.all} />}
        {problem !== undefined && <p role="alert">{problem}.</p>}
        <div className={styles.buttons}>
          <Button size="small" appearance="primary" type="submit" disabledFocusable={progress !== undefined}>
            {words.teach.save}
          </Button>
        </div>
      </form>
    </Section>
  );
}

function Marking(): ReactNode {
  const styles = useStyles();
  const { host, say, perform } = usePane();
  const [key, setKey] = useState<File | undefined>();
  const [marked, setMarked] = useState<readonly MarkedAssignment[]>([]);
  const [problems, setProblems] = useState<readonly string[]>([]);
  const [progress, setProgress] = useState<{ readonly done: number; readonly all: number } | undefined>();
  const keyChooser = useRef<HTMLInputElement>(null);
  const chooser = useRef<HTMLInputElement>(null);
  const folder = useRef<HTMLInputElement>(null);

  const mark = async (chosen: readonly File[]): Promise<void> => {
    if (key === undefined || chosen.length === 0) return;
    // Spreadsheets leave a file of this beginning beside one that is open.
    const files = chosen.filter(({ name }) => /\.xlsx$/i.test(name) && !/^[.~]/.test(name) && name !== key.name);
    if (files.length === 0) {
      setProblems([words.teach.noneReturned]);
      return;
    }
    setProgress({ done: 0, all: files.length });
    const found: MarkedAssignment[] = [];
    const wrong: string[] = [];
    try {
      const keys = new Map(keysFrom(await open(key)).map((one) => [one.student, one]));
      for (const [place, file] of files.entries()) {
        setProgress({ done: place, all: files.length });
        try {
          const { student, answers, recording } = answersFrom(await open(file));
          const own = keys.get(student);
          if (own === undefined) wrong.push(`${file.name}: ${words.teach.unknownStudent(student)}`);
          else if (found.some((other) => other.student === student)) wrong.push(`${file.name}: ${words.teach.twice(student)}`);
          else found.push({ ...markAssignment(answers, own), recording: markRecording(recording, own, [...keys.values()]) });
        } catch (thrown) {
          wrong.push(`${file.name}: ${sentenceOf(thrown)}`);
        }
      }
    } catch (thrown) {
      wrong.push(`${key.name}: ${sentenceOf(thrown)}`);
    }
    setMarked(found.sort((a, b) => a.student.localeCompare(b.student, undefined, { numeric: true })));
    setProblems(wrong);
    setProgress(undefined);
  };
  const save = async (): Promise<void> => {
    try {
      saveFile("coursework marks.xlsx", await bytesOf(marksWorkbook(marked)), XLSX);
      say({ kind: "done", text: words.teach.marksSaved });
    } catch (thrown) {
      say({ kind: "problem", text: sentenceOf(thrown) });
    }
  };
  const write = (): Promise<boolean> => perform(async () => host.apply(marksEdits(marked, await host.sheets()), { label: words.teach.marksLabel }), words.teach.marksWritten);
  const chosenFrom = (input: HTMLInputElement): void => {
    const files = [...(input.files ?? [])];
    // The same files may be chosen again.
    input.value = "";
    void mark(files);
  };

  return (
    <Section heading={words.teach.mark}>
      <p className={styles.quiet}>{words.teach.markHint}</p>
      <div className={styles.buttons}>
        <Button size="small" onClick={() => keyChooser.current?.click()}>
          {key === undefined ? words.teach.chooseKey : key.name}
        </Button>
        <Button size="small" disabledFocusable={key === undefined || progress !== undefined} onClick={() => chooser.current?.click()}>
          {words.teach.chooseReturned}
        </Button>
        <Button size="small" disabledFocusable={key === undefined || progress !== undefined} onClick={() => folder.current?.click()}>
          {words.teach.chooseFolder}
        </Button>
      </div>
      <input ref={keyChooser} type="file" accept=".xlsx" hidden data-test="key" aria-label={words.teach.chooseKey} onChange={(event) => setKey(event.target.files?.[0])} />
      <input ref={chooser} type="file" accept=".xlsx" multiple hidden data-test="returned" aria-label={words.teach.chooseReturned} onChange={(event) => chosenFrom(event.target)} />
      <input ref={folder} type="file" multiple hidden data-test="returned-folder" aria-label={words.teach.chooseFolder} {...{ webkitdirectory: "" }} onChange={(event) => chosenFrom(event.target)} />
      {progress !== undefined && <ProgressBar aria-label={words.teach.marking(progress.done, progress.all)} value={progress.done} max={progress.all} />}
      {problems.length > 0 && (
        <div role="alert">
          <ul className={styles.problems}>
            {problems.map((problem) => (
              <li key={problem}>{problem}</li>
            ))}
          </ul>
        </div>
      )}
      {marked.length > 0 && (
        <>
          <div className={styles.scroll} tabIndex={0} role="group" aria-label={words.teach.marks}>
            <table className={styles.table}>
              <thead>
                <tr>
                  <th scope="col">{words.teach.student}</th>
                  <th scope="col">{words.teach.right}</th>
                  <th scope="col">{words.teach.toTell}</th>
                </tr>
              </thead>
              <tbody>
                {marked.map(({ student, right, answers, recording }) => (
                  <tr key={student}>
                    <th scope="row">{student}</th>
                    <td>{words.teach.of(right, answers.length)}</td>
                    <td>
                      {recording !== undefined && recording.outcome !== "own" && <div>{recordingSentence(recording)}</div>}
                      {answers.some(({ mark }) => mark.outcome === "blank") && (
                        <div>{words.teach.noAnswer(answers.flatMap(({ key: question, mark }) => (mark.outcome === "blank" ? [metricName(question.metric)] : [])).join(", "))}</div>
                      )}
                      {answers
                        .filter(({ mark }) => mark.outcome !== "blank" && (mark.outcome !== "right" || mark.byFunction))
                        .map(({ key: question, mark }) => (
                          <div key={question.metric}>
                            {metricName(question.metric)}: {mark.message}
                          </div>
                        ))}
                    </td>
                  </tr>
                ))}
              </tbody>
            </table>
          </div>
          <div className={styles.buttons}>
            <Button size="small" appearance="primary" onClick={() => void write()}>
              {words.teach.writeMarks}
            </Button>
            <Button size="small" onClick={() => void save()}>
              {words.teach.saveMarks}
            </Button>
          </div>
        </>
      )}
    </Section>
  );
}

async function open(file: File): Promise<WorkbookFile> {
  checkRecordingSize(file.size, file.name);
  return (await inWorker({ kind: "read", bytes: new Uint8Array(await file.arrayBuffer()), functions: NAMES })) as WorkbookFile;
}

/** Files are packed beside the page, which goes on answering. */
async function bytesOf(file: WorkbookFile): Promise<Uint8Array> {
  return (await inWorker({ kind: "write", file, options: { formulas: "values" } })) as Uint8Array;
}
