import { useEffect, useState, type ReactNode } from "react";
import { Button, Field, makeStyles, Select, tokens } from "@fluentui/react-components";
import { usePane } from "./PaneContext.tsx";
import { Section } from "./SectionHead.tsx";
import { unitsOf, withUnits, type UnitChoice } from "./withUnits.ts";
import { words } from "./words.ts";

const useStyles = makeStyles({
  row: { display: "flex", flexWrap: "wrap", gap: "8px", alignItems: "end" },
  field: { flex: "1 1 80px", minWidth: 0, "& select": { minWidth: 0 } },
  quiet: { margin: "0 0 6px", color: tokens.colorNeutralForeground2, fontSize: tokens.fontSizeBase200 },
  button: { marginTop: "8px" },
});

/** Units of the Results head, written as suffixes of the names in it. */
export function UnitsSection(): ReactNode {
  const styles = useStyles();
  const { workbook, perform } = usePane();
  const [choice, setChoice] = useState<UnitChoice>({ m: "cm", s: "s", kg: "kg" });
  // The choice begins with what stands in the head, so that writing it changes only what the person chose.
  useEffect(() => {
    let current = true;
    void workbook.resultNames().then(
      (names) => current && names.length > 0 && setChoice(unitsOf(names)),
      () => undefined,
    );
    return () => {
      current = false;
    };
  }, [workbook]);
  const pick = <K extends keyof UnitChoice>(key: K, label: string, options: readonly UnitChoice[K][]): ReactNode => (
    <Field label={label} size="small" className={styles.field}>
      <Select size="small" value={choice[key]} onChange={(_, data) => setChoice((before) => ({ ...before, [key]: data.value }))}>
        {options.map((option) => (
          <option key={option} value={option}>
            {option}
          </option>
        ))}
      </Select>
    </Field>
  );
  return (
    <Section heading={words.settings.units}>
      <p className={styles.quiet}>{words.settings.unitsHint}</p>
      <div className={styles.row}>
        {pick("m", words.settings.lengths, ["cm", "m", "in"])}
        {pick("s", words.settings.times, ["s", "ms"])}
        {pick("kg", words.settings.masses, ["kg", "lb"])}
      </div>
      <Button className={styles.button} size="small" onClick={() => void perform(async () => workbook.setResultNames(withUnits(await workbook.resultNames(), choice)), words.settings.unitsWritten)}>
        {words.settings.writeUnits}
      </Button>
    </Section>
  );
}
