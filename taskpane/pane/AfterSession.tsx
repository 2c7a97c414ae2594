import { useState, type ReactNode } from "react";
import { Button, Field, makeStyles, Select, tokens } from "@fluentui/react-components";
import { record } from "../workbook/record.ts";
import { writeSessions } from "../workbook/sessions.ts";
import type { AnalysedTrial } from "./analyseTrial.ts";
import { usePane } from "./PaneContext.tsx";
import { recordDraftOf } from "./recording.ts";
import { dayName } from "./texts.ts";
import { words } from "./words.ts";

const useStyles = makeStyles({
  quiet: { margin: "6px 0", color: tokens.colorNeutralForeground2, fontSize: tokens.fontSizeBase200 },
  row: { display: "flex", flexWrap: "wrap", gap: "8px", alignItems: "end" },
  field: { minWidth: 0, flex: "1 1 120px", "& select": { minWidth: 0 } },
});

/** What is done once a session is looked over: record it as plain values, write the sheet of sessions. */
export function AfterSession({ trials }: { readonly trials: readonly AnalysedTrial[] }): ReactNode {
  const styles = useStyles();
  const { host, workbook, perform } = usePane();
  const dates = [...new Set(trials.map((trial) => trial.row.date))].sort((a, b) => b.localeCompare(a));
  const [picked, setPicked] = useState<string | undefined>();
  const date = picked !== undefined && dates.includes(picked) ? picked : (dates[0] ?? "");
  const ofDay = trials.filter((trial) => trial.row.date === date);
  const doubtful = ofDay.filter((trial) => trial.doubtful).length;

  const recordDay = (): void =>
    void perform(async () => {
      const names = await workbook.resultNames();
      const drafts = ofDay.flatMap((trial) => recordDraftOf(trial, names) ?? []);
      return record(host, drafts, new Date());
    }, words.record.done(ofDay.length, dayName(date)));

  return (
    <details style={{ marginTop: 16 }}>
      <summary>{words.record.title}</summary>
      <p className={styles.quiet}>{words.record.hint}</p>
      {doubtful > 0 && <p className={styles.quiet}>{words.record.doubtful(doubtful)}</p>}
      <div className={styles.row}>
        <Field label={words.bringIn.date} size="small" className={styles.field}>
          <Select size="small" value={date} onChange={(_, data) => setPicked(data.value)}>
            {dates.map((each) => (
              <option key={each} value={each}>
                {dayName(each)}
              </option>
            ))}
          </Select>
        </Field>
        <Button size="small" appearance="primary" onClick={recordDay}>
          {words.record.record(ofDay.length)}
        </Button>
      </div>
      <p className={styles.quiet}>{words.record.sessionsHint}</p>
      <Button size="small" onClick={() => void perform(() => writeSessions(host, workbook), words.record.sessionsDone)}>
        {words.record.sessions}
      </Button>
    </details>
  );
}
