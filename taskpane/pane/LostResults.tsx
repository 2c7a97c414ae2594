import { useEffect, useState, type ReactNode } from "react";
import { Button, makeStyles, tokens } from "@fluentui/react-components";
import { lostResults, removeLostResults, type LostResults as Lost } from "../workbook/lostResults.ts";
import { usePane } from "./PaneContext.tsx";
import { words } from "./words.ts";

const useStyles = makeStyles({
  note: { margin: "0 0 12px", padding: "8px", borderLeft: `3px solid ${tokens.colorStatusWarningBorderActive}`, backgroundColor: tokens.colorNeutralBackground2 },
  text: { margin: "0 0 8px", overflowWrap: "anywhere" },
  buttons: { display: "flex", flexWrap: "wrap", gap: "8px" },
});

/** Says which rows of Results lost their trial, and offers to remove them in one step; nothing where all have theirs. Looks again whenever `changed` does. */
export function LostResults({ changed }: { readonly changed: unknown }): ReactNode {
  const styles = useStyles();
  const { host, perform, showCell } = usePane();
  const [lost, setLost] = useState<Lost | undefined>();
  useEffect(() => {
    let current = true;
    // Where Results cannot be read the views that need it say so.
    void lostResults(host).then(
      (found) => current && setLost(found),
      () => current && setLost(undefined),
    );
    return () => {
      current = false;
    };
  }, [host, changed]);
  if (lost === undefined || lost.rows.length === 0) return null;
  const count = lost.rows.length;
  return (
    <section className={styles.note} aria-label={words.lost.title}>
      <p className={styles.text}>{words.lost.rows(lost.sheet, lost.rows.map((row) => row + 1))}</p>
      <div className={styles.buttons}>
        <Button size="small" onClick={() => void showCell({ sheet: lost.sheet, row: lost.rows[0], column: 0 })}>
          {words.trials.showInSheet}
        </Button>
        <Button size="small" onClick={() => void perform(() => removeLostResults(host, lost), words.lost.removed(count))}>
          {words.lost.remove(count)}
        </Button>
      </div>
    </section>
  );
}
