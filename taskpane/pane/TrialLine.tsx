import { memo, type ReactNode } from "react";
import { Button, makeStyles, mergeClasses, tokens } from "@fluentui/react-components";
import type { AnalysedTrial } from "./analyseTrial.ts";
import { formatValue } from "./format.ts";
import { lineOf } from "./lineOf.ts";
import { inUnits } from "./shownUnits.ts";
import { metricName } from "./texts.ts";
import { timesSource } from "./timesSource.ts";
import { useUnits } from "./useUnits.tsx";
import { Verdict } from "./Verdict.tsx";
import { words } from "./words.ts";

const useStyles = makeStyles({
  line: { display: "flex", alignItems: "stretch", borderBottom: `1px solid ${tokens.colorNeutralStroke3}` },
  open: {
    flex: "1 1 auto", minWidth: 0, display: "flex", alignItems: "center", gap: "8px", padding: "6px 4px", border: "none", background: "none", color: "inherit", font: "inherit", textAlign: "left", cursor: "pointer", borderRadius: tokens.borderRadiusMedium,
    ":hover": { backgroundColor: tokens.colorNeutralBackground1Hover },
    ":focus-visible": { outline: `2px solid ${tokens.colorStrokeFocus2}`, outlineOffset: "-2px" },
  },
  out: { opacity: 0.75 },
  picture: { flexShrink: 0, width: "72px", height: "36px", color: tokens.colorNeutralForeground2, backgroundColor: tokens.colorNeutralBackground3, borderRadius: tokens.borderRadiusSmall },
  times: { display: "flex", alignItems: "center", justifyContent: "center", textAlign: "center", fontSize: tokens.fontSizeBase100, lineHeight: "12px" },
  text: { flex: "1 1 auto", minWidth: 0, display: "flex", flexDirection: "column" },
  first: { display: "flex", alignItems: "baseline", gap: "6px", fontVariantNumeric: "tabular-nums" },
  number: { color: tokens.colorNeutralForeground2 },
  name: { flex: "1 1 auto", fontWeight: tokens.fontWeightSemibold, overflow: "hidden", textOverflow: "ellipsis", whiteSpace: "nowrap" },
  second: { display: "flex", gap: "8px", alignItems: "center", fontSize: tokens.fontSizeBase200, color: tokens.colorNeutralForeground2, minWidth: 0 },
  // Two lines of it: the rest stands on the page of the trial.
  note: { display: "-webkit-box", WebkitBoxOrient: "vertical", WebkitLineClamp: "2", overflow: "hidden", minWidth: 0, fontSize: tokens.fontSizeBase200, lineHeight: tokens.lineHeightBase200, color: tokens.colorNeutralForeground2, overflowWrap: "anywhere" },
  choices: { display: "flex", flexDirection: "column", justifyContent: "center", gap: "3px", padding: "5px 0", flexShrink: 0 },
  choice: { minWidth: "66px", padding: "0 4px", minHeight: "24px", fontSize: tokens.fontSizeBase200, fontWeight: tokens.fontWeightRegular },
});

export interface TrialLineProps {
  readonly id: string;
  readonly trial: AnalysedTrial;
  readonly number: number;
  /** Whether the tab key stops here; the arrow keys go to the others. */
  readonly reachable: boolean;
  readonly onOpen: (trial: AnalysedTrial) => void;
  readonly onDecide: (trial: AnalysedTrial, choice: "keep" | "leave out" | "") => void;
}

/** One trial in the list: small trace, headline number, verdict, and the person's choice. */
export const TrialLine = memo(function TrialLine({ id, trial, number, reachable, onOpen, onDecide }: TrialLineProps): ReactNode {
  const styles = useStyles();
  const units = useUnits();
  const { path, value: first, finding, problem } = lineOf(trial);
  const value = first && inUnits(first, units);
  const source = timesSource(trial.row.packed);
  const choice = trial.row.keep;
  const note = choice === "leave out" && trial.row.reason !== "" ? trial.row.reason : (problem ?? finding);
  return (
    <li className={styles.line}>
      <button type="button" className={mergeClasses(styles.open, trial.use === "leave out" && styles.out)} data-line={id} tabIndex={reachable ? 0 : -1} onClick={() => onOpen(trial)} aria-keyshortcuts="K X F">
        {source === undefined ? (
          <svg className={styles.picture} viewBox="0 0 72 36" preserveAspectRatio="none" aria-hidden="true" focusable="false">
            <path d={path} fill="none" stroke="currentColor" strokeWidth="1.2" vectorEffect="non-scaling-stroke" />
          </svg>
        ) : (
          <span className={mergeClasses(styles.picture, styles.times)}>{words.trials.fromTimes[source]}</span>
        )}
        <span className={styles.text}>
          <span className={styles.first}>
            <span className={styles.number}>{number}.</span>
            <span className={styles.name} title={first && metricName(first.id)}>
              {value === undefined ? (problem === undefined ? words.trials.noValue : words.trials.unreadable) : formatValue(value.value, value.unit)}
            </span>
          </span>
          <span className={styles.second}>
            <Verdict verdict={choice === "" ? trial.verdict : choice} />
            {choice !== "" && <span>{words.trials.byPerson}</span>}
          </span>
          {note !== "" && (
            <span className={styles.note} title={note}>
              {note}
            </span>
          )}
        </span>
      </button>
      <span className={styles.choices}>
        <Button size="small" appearance={choice === "keep" ? "primary" : "outline"} className={styles.choice} tabIndex={reachable ? 0 : -1} aria-pressed={choice === "keep"} onClick={() => onDecide(trial, choice === "keep" ? "" : "keep")}>
          {words.trials.keep}
        </Button>
        <Button size="small" appearance={choice === "leave out" ? "primary" : "outline"} className={styles.choice} tabIndex={reachable ? 0 : -1} aria-pressed={choice === "leave out"} onClick={() => onDecide(trial, choice === "leave out" ? "" : "leave out")}>
          {words.trials.leaveOut}
        </Button>
      </span>
    </li>
  );
});
