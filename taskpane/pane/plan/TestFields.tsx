import type { ReactNode } from "react";
import { Button, Field, Input, makeStyles, Select, tokens } from "@fluentui/react-components";
import { ArrowUp20Regular, Dismiss20Regular } from "@fluentui/react-icons";
import { TESTS, type Test } from "../../../src/protocols/Protocol.ts";
import { testName } from "../../../src/wording/testName.ts";
import { words } from "../words.ts";
import { testForm, type TestForm } from "./planForm.ts";

const useStyles = makeStyles({
  test: { margin: "0 0 8px", padding: "6px 8px 8px", border: `1px solid ${tokens.colorNeutralStroke2}`, borderRadius: tokens.borderRadiusMedium, minWidth: 0 },
  legend: { padding: "0 4px", fontWeight: tokens.fontWeightSemibold },
  head: { display: "flex", gap: "4px", alignItems: "end", "& > :first-child": { flex: "1 1 auto", minWidth: 0 } },
  grid: { display: "grid", gridTemplateColumns: "repeat(auto-fit, minmax(112px, 1fr))", gap: "8px", alignItems: "start", marginTop: "8px", "& > *": { minWidth: 0 }, "& .fui-Input": { minWidth: 0, width: "100%" }, "& input": { minWidth: 0, width: "100%" }, "& .fui-Select": { minWidth: 0 }, "& select": { minWidth: 0 } },
  wide: { gridColumn: "1 / -1" },
});

export interface TestFieldsProps {
  readonly form: TestForm;
  /** From one. */
  readonly number: number;
  readonly only: boolean;
  readonly onChange: (form: TestForm) => void;
  readonly onRemove: () => void;
  readonly onEarlier: () => void;
}

/** One test of a plan and how it is done. */
export function TestFields({ form, number, only, onChange, onRemove, onEarlier }: TestFieldsProps): ReactNode {
  const styles = useStyles();
  const typed = (key: "dropHeights" | "loads" | "trials" | "rest", label: string, hint?: string, className?: string): ReactNode => (
    <Field label={label} hint={hint} className={className}>
      <Input size="small" inputMode="decimal" value={form[key]} onChange={(_, data) => onChange({ ...form, [key]: data.value })} />
    </Field>
  );
  return (
    <fieldset className={styles.test}>
      <legend className={styles.legend}>{words.plan.testNumber(number)}</legend>
      <div className={styles.head}>
        <Select size="small" aria-label={words.bringIn.test} value={form.test} onChange={(_, data) => onChange(testForm(form.id, data.value as Test, form))}>
          {TESTS.map((test) => (
            <option key={test} value={test}>
              {testName(test)}
            </option>
          ))}
        </Select>
        {number > 1 && <Button size="small" appearance="subtle" icon={<ArrowUp20Regular />} aria-label={words.plan.earlier(number)} title={words.plan.earlier(number)} onClick={onEarlier} />}
        {!only && <Button size="small" appearance="subtle" icon={<Dismiss20Regular />} aria-label={words.plan.remove(number)} title={words.plan.remove(number)} onClick={onRemove} />}
      </div>
      <div className={styles.grid}>
        {form.test !== "IMTP" && (
          <Field label={words.bringIn.arms}>
            <Select size="small" value={form.arms} onChange={(_, data) => onChange({ ...form, arms: data.value as TestForm["arms"] })}>
              <option value="">{words.bringIn.notStated}</option>
              <option value="hips">{words.bringIn.armsHips}</option>
              <option value="swing">{words.bringIn.armsSwing}</option>
            </Select>
          </Field>
        )}
        <Field label={words.bringIn.limb} hint={form.limb === "each" ? words.plan.limbEachHint : undefined}>
          <Select size="small" value={form.limb} onChange={(_, data) => onChange({ ...form, limb: data.value as TestForm["limb"] })}>
            <option value="">{words.bringIn.notStated}</option>
            <option value="both">{words.bringIn.limbBoth}</option>
            <option value="left">{words.bringIn.limbLeft}</option>
            <option value="right">{words.bringIn.limbRight}</option>
            <option value="each">{words.plan.limbEach}</option>
          </Select>
        </Field>
        {form.test === "DJ" && typed("dropHeights", words.plan.dropHeights, words.plan.dropHeightsHint, styles.wide)}
        {typed("trials", words.plan.trials)}
        {typed("rest", words.plan.rest)}
        {form.test !== "IMTP" && typed("loads", words.plan.loads, words.plan.loadsHint)}
      </div>
    </fieldset>
  );
}
