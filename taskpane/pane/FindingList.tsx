import type { ReactNode } from "react";
import { makeStyles, tokens } from "@fluentui/react-components";
import type { Finding } from "../../src/protocols/Analysis.ts";
import { actionName } from "./texts.ts";
import { words } from "./words.ts";

const useStyles = makeStyles({
  list: { listStyle: "none", margin: 0, padding: 0, display: "flex", flexDirection: "column", gap: "6px" },
  item: { display: "flex", gap: "8px" },
  action: { flex: "0 0 74px", fontWeight: tokens.fontWeightSemibold, fontSize: tokens.fontSizeBase200, lineHeight: tokens.lineHeightBase300 },
  quiet: { fontSize: tokens.fontSizeBase200, color: tokens.colorNeutralForeground2 },
});

/** What the rules found, worst first; what was not checked comes last and folded. */
export function FindingList({ findings }: { readonly findings: readonly Finding[] }): ReactNode {
  const styles = useStyles();
  const fired = findings.filter((finding) => finding.action !== "not checked");
  const unchecked = findings.filter((finding) => finding.action === "not checked");
  return (
    <>
      {fired.length === 0 && <p style={{ margin: 0 }}>{words.trials.noFindings}.</p>}
      <ul className={styles.list}>
        {fired.map((finding, index) => (
          <li key={`${finding.rule} ${index}`} className={styles.item}>
            <span className={styles.action}>{actionName(finding.action)}</span>
            <span>{finding.message}</span>
          </li>
        ))}
      </ul>
      {unchecked.length > 0 && (
        <details className={styles.quiet}>
          <summary>
            {words.trials.notChecked} ({unchecked.length})
          </summary>
          <ul className={styles.list}>
            {unchecked.map((finding, index) => (
              <li key={`${finding.rule} ${index}`}>{finding.message}</li>
            ))}
          </ul>
        </details>
      )}
    </>
  );
}
