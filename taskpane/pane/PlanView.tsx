import { useCallback, useEffect, useMemo, useState, type ReactNode } from "react";
import { Button, Field, Input, makeStyles, Select, Textarea, tokens } from "@fluentui/react-components";
import { Add20Regular } from "@fluentui/react-icons";
import { formatProtocol } from "../../src/protocols/formatProtocol.ts";
import { testName } from "../../src/wording/testName.ts";
import { matchPlanned } from "../workbook/matchPlanned.ts";
import { PLAN_ORDERS, plannedSteps, planSteps, type PlanOrder, type PlanStep } from "../workbook/plan.ts";
import type { PlannedRow } from "../workbook/WorkbookModel.ts";
import { today } from "./bringIn/today.ts";
import { CautionList } from "./CautionList.tsx";
import { sentenceOf, usePane } from "./PaneContext.tsx";
import { namesOf, planRequest, testForm, withNextTest, type PlanForm, type TestForm } from "./plan/planForm.ts";
import { RunningSheet, RUNNING_SHEET_STYLE } from "./plan/RunningSheet.tsx";
import { StepsTable } from "./plan/StepsTable.tsx";
import { TestFields } from "./plan/TestFields.tsx";
import { PrintPage } from "./PrintPage.tsx";
import { protocolWords } from "./protocolWords.ts";
import { formatDate } from "./format.ts";
import { Section, ViewTitle } from "./SectionHead.tsx";
import { dayName } from "./texts.ts";
import { useUnits } from "./useUnits.tsx";
import { words } from "./words.ts";

const useStyles = makeStyles({
  quiet: { margin: "4px 0", color: tokens.colorNeutralForeground2, fontSize: tokens.fontSizeBase200 },
  row: { display: "flex", flexWrap: "wrap", gap: "8px", alignItems: "end", marginTop: "8px" },
  fields: { display: "grid", gap: "8px", "& .fui-Select": { minWidth: 0 }, "& select": { minWidth: 0 } },
  button: { marginTop: "8px" },
});

/** What was typed stays while another view is looked at. */
let typed: PlanForm | undefined;

/** A testing day in advance: who does what in which order, as rows that wait for their recordings and as pages to print. */
export function PlanView(): ReactNode {
  const styles = useStyles();
  const { host, workbook, say } = usePane();
  const [steps, setSteps] = useState<readonly PlanStep[]>([]);
  const [waiting, setWaiting] = useState<readonly PlannedRow[]>([]);
  const [athletes, setAthletes] = useState<readonly { readonly name: string; readonly mass?: number; readonly squad?: string }[]>([]);

  const read = useCallback(async () => {
    try {
      const [plan, rows, list] = await Promise.all([plannedSteps(host), workbook.planned(), workbook.athletes()]);
      setSteps(plan);
      setWaiting(rows);
      setAthletes(list);
    } catch (thrown) {
      say({ kind: "problem", text: sentenceOf(thrown) });
    }
  }, [host, workbook, say]);
  useEffect(() => {
    void read();
    return host.onChange(() => void read());
  }, [host, read]);

  return (
    <>
      <ViewTitle>{words.plan.title}</ViewTitle>
      {steps.length > 0 && <PlannedDay steps={steps} waiting={waiting} />}
      <NewPlan athletes={athletes} />
      <p className={styles.quiet}>{words.plan.ownWords}</p>
    </>
  );
}

/** A day that is planned: how far it is, and its pages. */
function PlannedDay({ steps, waiting }: { readonly steps: readonly PlanStep[]; readonly waiting: readonly PlannedRow[] }): ReactNode {
  const styles = useStyles();
  const { go, say } = usePane();
  const units = useUnits();
  const days = [...new Set(steps.map((step) => step.date))];
  const [chosen, setChosen] = useState<string | undefined>();
  const [printing, setPrinting] = useState<{ readonly to: "printer" | "file"; readonly count: number } | undefined>();
  const day = chosen !== undefined && days.includes(chosen) ? chosen : days.includes(today()) ? today() : days[days.length - 1];
  const own = steps.filter((step) => step.date === day);
  const matches = matchPlanned(own, waiting.filter((row) => row.date === day));
  const open = own.filter((_, place) => matches[place] !== undefined);
  const done = useCallback(() => setPrinting(undefined), []);
  const print = (to: "printer" | "file"): void => setPrinting((before) => ({ to, count: (before?.count ?? 0) + 1 }));
  return (
    <Section heading={words.plan.planned}>
      <Field label={words.plan.day}>
        <Select size="small" value={day} onChange={(_, data) => setChosen(data.value)}>
          {days.map((each) => (
            <option key={each} value={each}>
              {dayName(each)}
            </option>
          ))}
        </Select>
      </Field>
      <p role="status">
        {words.plan.progress(own.length - open.length, own.length)} {open.length === 0 ? words.plan.allIn : words.plan.next(`${open[0].athlete}, ${protocolWords(formatProtocol(open[0].protocol), units)}`)}
      </p>
      <div className={styles.row}>
        <Button size="small" appearance="primary" onClick={() => print("printer")}>
          {words.plan.print}
        </Button>
        <Button
          size="small"
          onClick={() => {
            print("file");
            say({ kind: "done", text: words.plan.saved });
          }}
        >
          {words.plan.save}
        </Button>
        {open.length > 0 && (
          <Button size="small" onClick={() => go("bringIn")}>
            {words.plan.toBringIn}
          </Button>
        )}
      </div>
      <p className={styles.quiet}>{words.plan.printHolds}</p>
      {printing !== undefined && (
        <PrintPage key={printing.count} title={words.plan.sheetTitle(formatDate(day))} style={RUNNING_SHEET_STYLE} to={printing.to} fileName={`running sheet ${day}`.trim() + ".html"} onDone={done}>
          <RunningSheet steps={own} />
        </PrintPage>
      )}
    </Section>
  );
}

function NewPlan({ athletes }: { readonly athletes: readonly { readonly name: string; readonly mass?: number; readonly squad?: string }[] }): ReactNode {
  const styles = useStyles();
  const { workbook, perform } = usePane();
  const [form, setForm] = useState<PlanForm>(() => typed ?? { names: "", date: today(), order: "person", tests: [testForm(1, "CMJ")] });
  const [squad, setSquad] = useState("");
  const [writing, setWriting] = useState(false);
  useEffect(() => {
    typed = form;
  }, [form]);
  const squads = [...new Set(athletes.flatMap((athlete) => athlete.squad ?? []))].sort((a, b) => a.localeCompare(b));
  const plan = useMemo((): { readonly steps: readonly PlanStep[]; readonly problem?: string } => {
    if (namesOf(form.names).length === 0) return { steps: [] };
    try {
      return { steps: planSteps(planRequest(form, new Map(athletes.flatMap(({ name, mass }) => (mass === undefined ? [] : [[name, mass] as const]))))) };
    } catch (thrown) {
      return { steps: [], problem: sentenceOf(thrown) };
    }
  }, [form, athletes]);
  const setTests = (change: (tests: readonly TestForm[]) => readonly TestForm[]): void => setForm((before) => ({ ...before, tests: change(before.tests) }));
  const write = async (): Promise<void> => {
    setWriting(true);
    const done = await perform(() => workbook.addPlan(plan.steps, { label: words.plan.label(plan.steps.length) }), words.plan.written(plan.steps.length));
    // A second press would plan the same day twice.
    if (done) setForm((before) => ({ ...before, names: "" }));
    setWriting(false);
  };
  return (
    <>
      <Section heading={words.plan.athletes}>
        <Field label={words.plan.names} hint={words.plan.namesHint}>
          <Textarea rows={5} value={form.names} onChange={(_, data) => setForm((before) => ({ ...before, names: data.value }))} />
        </Field>
        {athletes.length > 0 && (
          <div className={styles.row}>
            {squads.length > 0 && (
              <Field label={words.plan.squad}>
                <Select size="small" value={squad} onChange={(_, data) => setSquad(data.value)}>
                  <option value="">{words.plan.everybody}</option>
                  {squads.map((each) => (
                    <option key={each} value={each}>
                      {each}
                    </option>
                  ))}
                </Select>
              </Field>
            )}
            <Button size="small" onClick={() => setForm((before) => ({ ...before, names: athletes.filter((athlete) => squad === "" || athlete.squad === squad).map(({ name }) => name).join("\n") }))}>
              {words.plan.take}
            </Button>
          </div>
        )}
      </Section>
      <Section heading={words.plan.tests}>
        {form.tests.map((each, place) => (
          <TestFields
            key={each.id}
            form={each}
            number={place + 1}
            only={form.tests.length === 1}
            onChange={(next) => setTests((tests) => tests.map((other) => (other.id === each.id ? next : other)))}
            onRemove={() => setTests((tests) => tests.filter((other) => other.id !== each.id))}
            onEarlier={() => setTests((tests) => [...tests.slice(0, place - 1), tests[place], tests[place - 1], ...tests.slice(place + 1)])}
          />
        ))}
        <Button size="small" icon={<Add20Regular />} onClick={() => setForm(withNextTest)}>
          {words.plan.add}
        </Button>
      </Section>
      {[...new Set(form.tests.map(({ test }) => test))].map((test) => (
        <CautionList key={test} test={test} heading={`${words.plan.before}: ${testName(test)}`} />
      ))}
      <Section heading={words.plan.day}>
        <div className={styles.fields}>
          <Field label={words.bringIn.date}>
            <Input size="small" type="date" value={form.date} onChange={(_, data) => setForm((before) => ({ ...before, date: data.value }))} />
          </Field>
          <Field label={words.plan.order} hint={words.plan.orderHint[form.order]}>
            <Select size="small" value={form.order} onChange={(_, data) => setForm((before) => ({ ...before, order: data.value as PlanOrder }))}>
              {PLAN_ORDERS.map((order) => (
                <option key={order} value={order}>
                  {words.plan.orders[order]}
                </option>
              ))}
            </Select>
          </Field>
        </div>
      </Section>
      {(plan.steps.length > 0 || plan.problem !== undefined) && (
        <Section heading={words.plan.willPlan}>
          {plan.problem !== undefined && <p role="alert">{plan.problem}.</p>}
          {plan.steps.length > 0 && (
            <>
              <p className={styles.quiet}>{words.plan.count(plan.steps.length, new Set(plan.steps.map(({ athlete }) => athlete)).size)}</p>
              <StepsTable steps={plan.steps} label={words.plan.willPlan} />
              <Button className={styles.button} appearance="primary" disabledFocusable={writing} onClick={() => void write()}>
                {words.plan.write(plan.steps.length)}
              </Button>
            </>
          )}
        </Section>
      )}
    </>
  );
}
