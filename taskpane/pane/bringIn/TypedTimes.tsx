import { useState, type ReactNode } from "react";
import { Button, Field, Input, makeStyles, Select, tokens } from "@fluentui/react-components";
import type { Test } from "../../../src/protocols/Protocol.ts";
import { jumpHeightFromFlightTime } from "../../../src/metrics/jumpHeightFromFlightTime.ts";
import { testName } from "../../../src/wording/testName.ts";
import { matchPlanned } from "../../workbook/matchPlanned.ts";
import type { PlannedRow } from "../../workbook/WorkbookModel.ts";
import { CautionList } from "../CautionList.tsx";
import { formatValue } from "../format.ts";
import { sentenceOf, usePane } from "../PaneContext.tsx";
import { inUnits } from "../shownUnits.ts";
import { useUnits } from "../useUnits.tsx";
import { words } from "../words.ts";
import { factsOf } from "./factsOf.ts";
import { fillsWords } from "./fillsWords.ts";
import type { CommonFacts } from "./IncomingFile.ts";
import { timesRecordFrom, type TypedTimesFields } from "./timesRecordFrom.ts";
import { today } from "./today.ts";

const useStyles = makeStyles({
  details: { marginTop: "16px" },
  grid: { display: "grid", gridTemplateColumns: "1fr 1fr", gap: "8px", alignItems: "start", margin: "8px 0", "& > *": { minWidth: 0 }, "& .fui-Input": { minWidth: 0, width: "100%" }, "& input": { minWidth: 0, width: "100%" }, "& .fui-Select": { minWidth: 0 }, "& select": { minWidth: 0 } },
  wide: { gridColumn: "1 / -1" },
  quiet: { margin: "4px 0", color: tokens.colorNeutralForeground2, fontSize: tokens.fontSizeBase200 },
});

const TESTS_WITH_TIMES: readonly Test[] = ["CMJ", "SJ", "DJ"];
const EMPTY: TypedTimesFields = { source: "mat", flight: "", contact: "", framesPerSecond: "", touchdownFrame: "", takeoffFrame: "", landingFrame: "" };

/** Times from a mat or a video in place of a trace; they are labelled as such wherever they appear. */
export function TypedTimes({ athletes, planned }: { readonly athletes: readonly { readonly name: string; readonly mass?: number }[]; readonly planned: readonly PlannedRow[] }): ReactNode {
  const styles = useStyles();
  const { workbook, perform } = usePane();
  const units = useUnits();
  const [fields, setFields] = useState<TypedTimesFields>(EMPTY);
  const [common, setCommon] = useState<CommonFacts>({ athlete: "", date: today(), test: "CMJ", arms: "", limb: "", dropHeight: "", load: "", mass: "" });
  const [problem, setProblem] = useState<string | undefined>();
  const contact = common.test === "DJ";
  const record = timesRecordFrom(fields, contact);
  const incoming = { athlete: common.athlete, date: common.date, protocol: factsOf(common).protocol };
  const [into] = matchPlanned([incoming], planned);
  const fills = fillsWords(incoming, into, units);
  const print = (si: number, siUnit: "m" | "s"): string => {
    const { value, unit } = inUnits({ value: si, unit: siUnit }, units);
    return formatValue(value, unit);
  };
  const typed = <K extends keyof TypedTimesFields>(key: K, label: string): ReactNode => (
    <Field label={label}>
      <Input size="small" inputMode="decimal" value={fields[key]} onChange={(_, data) => setFields((before) => ({ ...before, [key]: data.value }))} />
    </Field>
  );
  const write = async (): Promise<void> => {
    const facts = factsOf(common);
    const wrong = typeof record === "string" ? record : common.athlete.trim() === "" ? words.bringIn.athleteMissing : Object.values(facts.problems)[0];
    if (wrong !== undefined || typeof record === "string") {
      setProblem(wrong);
      return;
    }
    setProblem(undefined);
    const mass = facts.mass ?? athletes.find((athlete) => athlete.name === common.athlete.trim())?.mass;
    const draft = { athlete: common.athlete.trim(), date: common.date, protocol: facts.protocol, ...(mass === undefined ? {} : { mass }), file: words.trials.fromTimes[record.source], startInFile: 0, hash: `times-${record.source}-${Date.now().toString(36)}`, trace: record, ...(into === undefined ? {} : { fills: into.row }) };
    const done = await perform(async () => (await workbook.addTrials([draft], { label: words.bringIn.label(1) })).applied, `${words.bringIn.written(1)}: ${draft.athlete}`);
    // The next trial of the same athlete is typed most often.
    if (done) setFields((before) => ({ ...EMPTY, source: before.source, framesPerSecond: before.framesPerSecond }));
  };
  return (
    <details className={styles.details}>
      <summary>{words.bringIn.times.title}</summary>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          void write().catch((thrown: unknown) => setProblem(sentenceOf(thrown)));
        }}
      >
        <p className={styles.quiet}>{words.bringIn.times.hint}</p>
        <datalist id="leapsheet-typed-athletes">
          {athletes.map((athlete) => (
            <option key={athlete.name} value={athlete.name} />
          ))}
        </datalist>
        <div className={styles.grid}>
          <Field className={styles.wide} label={words.bringIn.athlete} required>
            <Input size="small" list="leapsheet-typed-athletes" autoComplete="off" value={common.athlete} onChange={(_, data) => setCommon((before) => ({ ...before, athlete: data.value }))} />
          </Field>
          <Field label={words.bringIn.test}>
            <Select size="small" value={common.test} onChange={(_, data) => setCommon((before) => ({ ...before, test: data.value as Test }))}>
              {TESTS_WITH_TIMES.map((test) => (
                <option key={test} value={test}>
                  {testName(test)}
                </option>
              ))}
            </Select>
          </Field>
          <Field label={words.bringIn.arms}>
            <Select size="small" value={common.arms} onChange={(_, data) => setCommon((before) => ({ ...before, arms: data.value as CommonFacts["arms"] }))}>
              <option value="">{words.bringIn.notStated}</option>
              <option value="hips">{words.bringIn.armsHips}</option>
              <option value="swing">{words.bringIn.armsSwing}</option>
            </Select>
          </Field>
          {contact && (
            <Field label={words.bringIn.dropHeight}>
              <Input size="small" inputMode="decimal" value={common.dropHeight} onChange={(_, data) => setCommon((before) => ({ ...before, dropHeight: data.value }))} />
            </Field>
          )}
          <Field label={words.bringIn.date}>
            <Input size="small" type="date" value={common.date} onChange={(_, data) => setCommon((before) => ({ ...before, date: data.value }))} />
          </Field>
          <Field className={styles.wide} label={words.bringIn.times.source}>
            <Select size="small" value={fields.source} onChange={(_, data) => setFields((before) => ({ ...before, source: data.value as TypedTimesFields["source"] }))}>
              <option value="mat">{words.bringIn.times.mat}</option>
              <option value="video">{words.bringIn.times.video}</option>
            </Select>
          </Field>
          {fields.source === "mat" ? (
            <>
              {contact && typed("contact", words.bringIn.times.contact)}
              {typed("flight", words.bringIn.times.flight)}
            </>
          ) : (
            <>
              {typed("framesPerSecond", words.bringIn.times.rate)}
              {contact && typed("touchdownFrame", words.bringIn.times.touchdown)}
              {typed("takeoffFrame", words.bringIn.times.takeoff)}
              {typed("landingFrame", words.bringIn.times.landing)}
            </>
          )}
        </div>
        {typeof record !== "string" && record.flight !== undefined && <p className={styles.quiet}>{words.bringIn.times.gives(print(record.flight, "s"), print(jumpHeightFromFlightTime(record.flight), "m"))}</p>}
        {fills !== undefined && <p className={styles.quiet}>{words.bringIn.times.fills(fills)}</p>}
        {problem !== undefined && <p role="alert">{problem}.</p>}
        <CautionList test={common.test} heading={words.bringIn.cautions} />
        <p>
          <Button size="small" appearance="primary" type="submit">
            {words.bringIn.times.write}
          </Button>
        </p>
      </form>
    </details>
  );
}
