import type { ReactNode } from "react";
import { Field, Input, makeStyles, Select } from "@fluentui/react-components";
import { TESTS, type Test } from "../../../src/protocols/Protocol.ts";
import { testName } from "../../../src/wording/testName.ts";
import { words } from "../words.ts";
import { factsOf } from "./factsOf.ts";
import type { CommonFacts } from "./IncomingFile.ts";

const useStyles = makeStyles({
  grid: { display: "grid", gridTemplateColumns: "repeat(auto-fit, minmax(120px, 1fr))", gap: "8px", alignItems: "start", "& > *": { minWidth: 0 }, "& .fui-Input": { minWidth: 0, width: "100%" }, "& input": { minWidth: 0, width: "100%" }, "& .fui-Select": { minWidth: 0 }, "& select": { minWidth: 0 } },
  wide: { gridColumn: "1 / -1" },
});

/** Id of the list of athletes that the fields for names offer. */
export const ATHLETES_LIST = "leapsheet-athletes";

export interface FactsFormProps {
  readonly common: CommonFacts;
  readonly athletes: readonly { readonly name: string; readonly mass?: number }[];
  /** Shows that the athlete is missing. */
  readonly nameless: boolean;
  readonly onChange: (change: Partial<CommonFacts>) => void;
}

/** Whose trials these are, and what the athlete was asked to do. */
export function FactsForm({ common, athletes, nameless, onChange }: FactsFormProps): ReactNode {
  const styles = useStyles();
  const { problems } = factsOf(common);
  const number = (field: "dropHeight" | "load" | "mass", label: string, hint?: string): ReactNode => (
    <Field label={label} hint={hint} validationState={problems[field] === undefined ? "none" : "error"} validationMessage={problems[field]}>
      <Input size="small" inputMode="decimal" value={common[field]} onChange={(_, data) => onChange({ [field]: data.value })} />
    </Field>
  );
  return (
    <>
      <datalist id={ATHLETES_LIST}>
        {athletes.map((athlete) => (
          <option key={athlete.name} value={athlete.name} />
        ))}
      </datalist>
      <div className={styles.grid}>
        <Field className={styles.wide} label={words.bringIn.athlete} hint={words.bringIn.athleteHint} required validationState={nameless ? "error" : "none"} validationMessage={nameless ? words.bringIn.athleteMissing : undefined}>
          <Input size="small" list={ATHLETES_LIST} autoComplete="off" value={common.athlete} onChange={(_, data) => onChange({ athlete: data.value })} />
        </Field>
        <Field className={styles.wide} label={words.bringIn.test}>
          <Select size="small" value={common.test} onChange={(_, data) => onChange({ test: data.value as Test })}>
            {TESTS.map((test) => (
              <option key={test} value={test}>
                {testName(test)}
              </option>
            ))}
          </Select>
        </Field>
        {common.test !== "IMTP" && (
          <Field label={words.bringIn.arms}>
            <Select size="small" value={common.arms} onChange={(_, data) => onChange({ arms: data.value as CommonFacts["arms"] })}>
              <option value="">{words.bringIn.notStated}</option>
              <option value="hips">{words.bringIn.armsHips}</option>
              <option value="swing">{words.bringIn.armsSwing}</option>
            </Select>
          </Field>
        )}
        <Field label={words.bringIn.limb}>
          <Select size="small" value={common.limb} onChange={(_, data) => onChange({ limb: data.value as CommonFacts["limb"] })}>
            <option value="">{words.bringIn.notStated}</option>
            <option value="both">{words.bringIn.limbBoth}</option>
            <option value="left">{words.bringIn.limbLeft}</option>
            <option value="right">{words.bringIn.limbRight}</option>
          </Select>
        </Field>
        {common.test === "DJ" && number("dropHeight", words.bringIn.dropHeight)}
        {number("load", words.bringIn.load)}
        {number("mass", words.bringIn.mass, words.bringIn.massHint)}
        <Field label={words.bringIn.date}>
          <Input size="small" type="date" value={common.date} onChange={(_, data) => onChange({ date: data.value })} />
        </Field>
      </div>
    </>
  );
}
