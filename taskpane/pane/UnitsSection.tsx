import { useState, type ReactNode } from "react";
import { Button, Field, makeStyles, Select, tokens } from "@fluentui/react-components";
import { usePane } from "./PaneContext.tsx";
import { Section } from "./SectionHead.tsx";
import { useUnits } from "./useUnits.tsx";
import { withUnits, type UnitChoice } from "./withUnits.ts";
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
  // What the head shows, but for what the person chose and has not written yet.
  const [chosen, setChosen] = useState<Partial<UnitChoice>>({});
  const choice = { ...useUnits(), ...chosen };
  const pick = <K extends keyof UnitChoice>(key: K, label: string, options: readonly UnitChoice[K][]): ReactNode => (
    <Field label={label} size="small" className={styles.field}>
      <Select size="small" value={choice[key]} onChange={(_, data) => setChosen((before) => ({ ...before, [key]: data.value }))}>
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
