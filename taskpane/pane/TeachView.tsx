import { useRef, useState, type ReactNode } from "react";
import { Button, Checkbox, Field, Input, makeStyles, ProgressBar, Select, Textarea, tokens } from "@fluentui/react-components";
import { zipSync } from "fflate";
import { FUNCTIONS } from "../../functions/index.ts";
import { COURSEWORK_FAULTS, type CourseworkFault } from "../../src/coursework/Coursework.ts";
import { makeCoursework } from "../../src/coursework/makeCoursework.ts";
import { markAssignment, type MarkedAssignment } from "../../src/coursework/markAssignment.ts";
import { TESTS, type Test } from "../../src/protocols/Protocol.ts";
import { checkRecordingSize } from "../../src/read/limits.ts";
import { testName } from "../../src/wording/testName.ts";
import { readWorkbook } from "../../src/workbook/readWorkbook.ts";
import { writeWorkbook } from "../../src/workbook/writeWorkbook.ts";
import { sentenceOf, usePane } from "./PaneContext.tsx";
import { Section, ViewTitle } from "./SectionHead.tsx";
import { answersFrom } from "./teach/answersFrom.ts";
import { keysFrom, keyWorkbook } from "./teach/keyWorkbook.ts";
import { marksWorkbook } from "./teach/marksWorkbook.ts";
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
  const [test, setTest] = useState<Test>("CMJ");
  const [students, setStudents] = useState("");
  const [noise, setNoise] = useState("1");
  const [faults, setFaults] = useState<ReadonlySet<CourseworkFault>>(new Set());
  const [progress, setProgress] = useState<{ readonly done: number; readonly all: number } | undefined>();
  const [problem, setProblem] = useState<string | undefined>();

  const make = async (): Promise<void> => {
    setProblem(undefined);
    const names = students.split(/[\n;,]/).map((name) => name.trim()).filter((name) => name !== "");
    try {
      const plan = { test, students: names, faults: [...faults], noise: Number(noise.replace(",", ".")), seed: freshSeed() };
      const { assignments, keys } = makeCoursework(plan);
      const files: Record<string, Uint8Array> = {};
      for (const [place, assignment] of assignments.entries()) {
        setProgress({ done: place, all: assignments.length });
        // Lets the page answer between two files.
        await new Promise((resolve) => setTimeout(resolve));
        files[`${String(place + 1).padStart(3, "0")} ${fileNameOf(assignment.student)}.xlsx`] = await writeWorkbook(studentWorkbook(assignment), { formulas: "values" });
      }
      saveFile(`coursework ${test}.zip`, zipSync(files, { level: 0 }), TYPE);
      saveFile(`coursework ${test} key.xlsx`, await writeWorkbook(keyWorkbook(keys), { formulas: "values" }), XLSX);
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
          <Field label={words.bringIn.test}>
            <Select size="small" value={test} onChange={(_, data) => setTest(data.value as Test)}>
              {TESTS.map((each) => (
                <option key={each} value={each}>
                  {testName(each)}
                </option>
              ))}
            </Select>
          </Field>
          <Field label={words.teach.noise}>
            <Input size="small" type="text" inputMode="decimal" value={noise} onChange={(_, data) => setNoise(data.value)} />
          </Field>
          <Field className={styles.wide} label={words.teach.students} hint={words.teach.studentsHint}>
            <Textarea rows={4} value={students} onChange={(_, data) => setStudents(data.value)} />
          </Field>
        </div>
        <fieldset className={styles.faults}>
          <legend>{words.teach.faults}</legend>
          {COURSEWORK_FAULTS.map((fault) => (
            <Checkbox
              key={fault}
              label={words.teach.faultNames[fault]}
              checked={faults.has(fault)}
              onChange={(_, data) =>
                setFaults((before) => {
                  const next = new Set(before);
                  if (data.checked === true) next.add(fault);
                  else next.delete(fault);
                  return next;
                })
              }
            />
          ))}
        </fieldset>
        {progress !== undefined && <ProgressBar aria-label={words.pane.working} value={progress.done} max={progress.all} />}
        {problem !== undefined && <p role="alert">{problem}</p>}
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
  const { say } = usePane();
  const [key, setKey] = useState<File | undefined>();
  const [marked, setMarked] = useState<readonly MarkedAssignment[]>([]);
  const [problems, setProblems] = useState<readonly string[]>([]);
  const [working, setWorking] = useState(false);
  const keyChooser = useRef<HTMLInputElement>(null);
  const chooser = useRef<HTMLInputElement>(null);

  const mark = async (files: readonly File[]): Promise<void> => {
    if (key === undefined || files.length === 0) return;
    setWorking(true);
    const found: MarkedAssignment[] = [];
    const wrong: string[] = [];
    try {
      const keys = new Map(keysFrom(await open(key)).map((one) => [one.student, one]));
      for (const file of files) {
        try {
          const { student, answers } = answersFrom(await open(file));
          const own = keys.get(student);
          if (own === undefined) wrong.push(`${file.name}: ${words.teach.unknownStudent(student)}`);
          else if (found.some((other) => other.student === student)) wrong.push(`${file.name}: ${words.teach.twice(student)}`);
          else found.push(markAssignment(answers, own));
        } catch (thrown) {
          wrong.push(`${file.name}: ${sentenceOf(thrown)}`);
        }
        await new Promise((resolve) => setTimeout(resolve));
      }
    } catch (thrown) {
      wrong.push(`${key.name}: ${sentenceOf(thrown)}`);
    }
    setMarked(found);
    setProblems(wrong);
    setWorking(false);
  };
  const save = async (): Promise<void> => {
    saveFile("coursework marks.xlsx", await writeWorkbook(marksWorkbook(marked), { formulas: "values" }), XLSX);
    say({ kind: "done", text: words.teach.marksSaved });
  };

  return (
    <Section heading={words.teach.mark}>
      <p className={styles.quiet}>{words.teach.markHint}</p>
      <div className={styles.buttons}>
        <Button size="small" onClick={() => keyChooser.current?.click()}>
          {key === undefined ? words.teach.chooseKey : key.name}
        </Button>
        <Button size="small" disabledFocusable={key === undefined || working} onClick={() => chooser.current?.click()}>
          {words.teach.chooseReturned}
        </Button>
      </div>
      <input ref={keyChooser} type="file" accept=".xlsx" hidden data-test="key" aria-label={words.teach.chooseKey} onChange={(event) => setKey(event.target.files?.[0])} />
      <input
        ref={chooser} type="file" accept=".xlsx" multiple hidden data-test="returned" aria-label={words.teach.chooseReturned}
        onChange={(event) => {
          const files = [...(event.target.files ?? [])];
          event.target.value = "";
          void mark(files);
        }}
      />
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
                {marked.map(({ student, right, answers }) => (
                  <tr key={student}>
                    <th scope="row">{student}</th>
                    <td>{words.teach.of(right, answers.length)}</td>
                    <td>
                      {answers
                        .filter(({ mark }) => mark.outcome !== "right" || mark.byFunction)
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
            <Button size="small" appearance="primary" onClick={() => void save()}>
              {words.teach.saveMarks}
            </Button>
          </div>
        </>
      )}
    </Section>
  );
}

async function open(file: File): ReturnType<typeof readWorkbook> {
  checkRecordingSize(file.size, file.name);
  return readWorkbook(new Uint8Array(await file.arrayBuffer()), NAMES);
}

/** A seed that cannot be guessed from the time of day. */
function freshSeed(): number {
  return crypto.getRandomValues(new Uint32Array(1))[0] % 2147483647;
}
