import { memo, useMemo, type ReactNode } from "react";
import { Button, makeStyles, mergeClasses, tokens } from "@fluentui/react-components";
import { Dismiss16Regular } from "@fluentui/react-icons";
import { TESTS, type Test } from "../../../src/protocols/Protocol.ts";
import { tracePicture } from "../../plots/tracePicture.ts";
import { useGrowing } from "../useGrowing.ts";
import { words } from "../words.ts";
import { ATHLETES_LIST } from "./FactsForm.tsx";
import type { CommonFacts, IncomingFile } from "./IncomingFile.ts";
import type { PlanRow } from "./planOf.ts";

const useStyles = makeStyles({
  files: { listStyle: "none", margin: 0, padding: 0, maxHeight: "360px", overflowY: "auto" },
  file: { padding: "6px 0", borderBottom: `1px solid ${tokens.colorNeutralStroke3}`, contentVisibility: "auto", containIntrinsicSize: "auto 60px" },
  head: { display: "flex", alignItems: "center", gap: "6px" },
  name: { flex: "1 1 auto", minWidth: 0, overflowWrap: "anywhere", border: "none", background: "none", padding: "4px 2px", font: "inherit", color: "inherit", textAlign: "left", cursor: "pointer", borderRadius: tokens.borderRadiusSmall, ":hover": { textDecorationLine: "underline" }, ":focus-visible": { outline: `2px solid ${tokens.colorStrokeFocus2}` } },
  current: { fontWeight: tokens.fontWeightSemibold },
  picture: { flexShrink: 0, width: "48px", height: "24px", color: tokens.colorNeutralForeground2, backgroundColor: tokens.colorNeutralBackground3 },
  problem: { margin: "2px 0", padding: "4px 8px", backgroundColor: tokens.colorStatusWarningBackground1, color: tokens.colorNeutralForeground1, borderRadius: tokens.borderRadiusMedium, overflowWrap: "anywhere" },
  quiet: { color: tokens.colorNeutralForeground2, fontSize: tokens.fontSizeBase200 },
  own: {
    display: "grid", gridTemplateColumns: "minmax(0, 1.3fr) minmax(0, 0.8fr) minmax(0, 1.3fr)", gap: "4px",
    // The browser's own fields: a list of hundreds is drawn at once.
    "& input, & select": {
      minWidth: 0, width: "100%", boxSizing: "border-box", height: "26px", padding: "0 6px", font: "inherit", fontSize: tokens.fontSizeBase200, color: tokens.colorNeutralForeground1, backgroundColor: tokens.colorNeutralBackground1,
      border: `1px solid ${tokens.colorNeutralStrokeAccessible}`, borderRadius: tokens.borderRadiusMedium, colorScheme: "light dark",
    },
    "& ::placeholder": { color: tokens.colorNeutralForeground3, opacity: 1 },
  },
});

export interface FileListProps {
  readonly files: readonly IncomingFile[];
  readonly rows: readonly PlanRow[];
  readonly common: CommonFacts;
  readonly current?: string;
  readonly onCurrent: (id: string | undefined) => void;
  readonly onOwn: (id: string, change: Partial<Pick<IncomingFile, "athlete" | "date" | "test">>) => void;
  readonly onRemove: (id: string) => void;
}

/** The files on their way in: what was found in each, what is wrong, and (among several) whose and which each is. */
export function FileList({ files, rows, common, current, onCurrent, onOwn, onRemove }: FileListProps): ReactNode {
  const styles = useStyles();
  const shown = useGrowing(files.length);
  const found = useMemo(() => {
    const counts = new Map<string, number>();
    for (const row of rows) if (row.found) counts.set(row.fileId, (counts.get(row.fileId) ?? 0) + 1);
    return counts;
  }, [rows]);
  return (
    <ul className={styles.files}>
      {files.slice(0, shown).map((incoming) => (
        <FileLine
          key={incoming.id} incoming={incoming} found={found.get(incoming.id) ?? 0} several={files.length > 1} current={incoming.id === current}
          athlete={common.athlete} test={common.test} date={common.date} onCurrent={onCurrent} onOwn={onOwn} onRemove={onRemove}
        />
      ))}
    </ul>
  );
}

interface FileLineProps extends Pick<FileListProps, "onCurrent" | "onOwn" | "onRemove"> {
  readonly incoming: IncomingFile;
  readonly found: number;
  readonly several: boolean;
  readonly current: boolean;
  /** What holds for all files. */
  readonly athlete: string;
  readonly test: Test;
  readonly date: string;
}

const FileLine = memo(function FileLine({ incoming, found, several, current, athlete, test, date, onCurrent, onOwn, onRemove }: FileLineProps): ReactNode {
  const styles = useStyles();
  const path = useMemo(() => (incoming.trace === undefined ? "" : tracePicture(incoming.trace.plates[0].force, 48, 24)), [incoming.trace]);
  return (
    <li className={styles.file}>
      <div className={styles.head}>
        {path !== "" && (
          <svg className={styles.picture} viewBox="0 0 48 24" aria-hidden="true" focusable="false">
            <path d={path} fill="none" stroke="currentColor" strokeWidth="1" />
          </svg>
        )}
        <button type="button" className={mergeClasses(styles.name, current && styles.current)} aria-expanded={current} onClick={() => onCurrent(current ? undefined : incoming.id)}>
          {incoming.path}{" "}
          <span className={styles.quiet}>
            {incoming.trace === undefined ? "" : `(${words.bringIn.found(found)})`} {incoming.remembered === undefined ? "" : words.bringIn.readAs(incoming.remembered)}
          </span>
        </button>
        <Button size="small" appearance="subtle" icon={<Dismiss16Regular />} aria-label={words.bringIn.remove(incoming.file.name)} onClick={() => onRemove(incoming.id)} />
      </div>
      {incoming.problem !== undefined && (
        <p className={styles.problem} role="alert">
          {words.bringIn.cannotRead(incoming.file.name)}: {incoming.problem}{" "}
          {incoming.recording !== undefined && !current && (
            <Button size="small" onClick={() => onCurrent(incoming.id)}>
              {words.bringIn.correct}
            </Button>
          )}
        </p>
      )}
      {several && incoming.trace !== undefined && (
        <div className={styles.own}>
          <input list={ATHLETES_LIST} autoComplete="off" aria-label={`${words.bringIn.athlete}, ${incoming.file.name}`} placeholder={athlete === "" ? words.bringIn.athlete : athlete} value={incoming.athlete} onChange={(event) => onOwn(incoming.id, { athlete: event.target.value })} />
          <select aria-label={`${words.bringIn.test}, ${incoming.file.name}`} value={incoming.test ?? test} onChange={(event) => onOwn(incoming.id, { test: event.target.value as Test })}>
            {TESTS.map((each) => (
              <option key={each} value={each}>
                {each}
              </option>
            ))}
          </select>
          <input type="date" aria-label={`${words.bringIn.date}, ${incoming.file.name}`} value={incoming.date || date} onChange={(event) => onOwn(incoming.id, { date: event.target.value })} />
        </div>
      )}
    </li>
  );
});
