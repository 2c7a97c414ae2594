import type { ReactNode } from "react";
import { makeStyles, mergeClasses, tokens } from "@fluentui/react-components";
import type { Verdict as VerdictName } from "../../src/protocols/Analysis.ts";
import { words } from "./words.ts";

const useStyles = makeStyles({
  whole: { display: "inline-flex", alignItems: "center", gap: "4px", whiteSpace: "nowrap", fontSize: tokens.fontSizeBase200, color: tokens.colorNeutralForeground1 },
  shape: { width: "12px", height: "12px", flexShrink: 0 },
  keep: { color: tokens.colorStatusSuccessForeground1 },
  look: { color: tokens.colorStatusWarningForeground1 },
  leaveOut: { color: tokens.colorStatusDangerForeground1 },
});

/** A verdict by shape and word: filled circle, triangle, crossed square. The colour only repeats it. */
export function Verdict({ verdict }: { readonly verdict: VerdictName }): ReactNode {
  const styles = useStyles();
  const colour = verdict === "keep" ? styles.keep : verdict === "look" ? styles.look : styles.leaveOut;
  return (
    <span className={styles.whole}>
      <svg viewBox="0 0 12 12" className={mergeClasses(styles.shape, colour)} aria-hidden="true" focusable="false">
        {verdict === "keep" && <circle cx="6" cy="6" r="5" fill="currentColor" />}
        {verdict === "look" && <path d="M6 0.8 11.6 11H0.4Z" fill="none" stroke="currentColor" strokeWidth="1.6" strokeLinejoin="round" />}
        {verdict === "leave out" && <path d="M1 1h10v10H1ZM3.5 3.5l5 5M8.5 3.5l-5 5" fill="none" stroke="currentColor" strokeWidth="1.6" />}
      </svg>
      {words.verdicts[verdict]}
    </span>
  );
}
