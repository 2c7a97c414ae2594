import type { ReactNode } from "react";
import { Button, Input, makeStyles, mergeClasses, Select, tokens } from "@fluentui/react-components";
import { Dismiss16Regular } from "@fluentui/react-icons";
import { TESTS, type Test } from "../../../src/protocols/Protocol.ts";
import { tracePicture } from "../../plots/tracePicture.ts";
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
  own: { display: "grid", gridTemplateColumns: "minmax(0, 1.3fr) minmax(0, 0.8fr) minmax(0, 1.3fr)", gap: "4px", "& > *": { minWidth: 0 }, "& input": { minWidth: 0, width: "100%" }, "& select": { minWidth: 0 } },
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
  const found = new Map<string, number>();
  for (const row of rows) if (row.found) found.set(row.fileId, (found.get(row.fileId) ?? 0) + 1);
  return (
    <ul className={styles.files}>
      {files.map((incoming) => (
        <li key={incoming.id} className={styles.file}>
          <div className={styles.head}>
            {incoming.trace !== undefined && (
              <svg className={styles.picture} viewBox="0 0 48 24" aria-hidden="true" focusable="false">
                <path d={tracePicture(incoming.trace.plates[0].force, 48, 24)} fill="none" stroke="currentColor" strokeWidth="1" />
              </svg>
            )}
            <button type="button" className={mergeClasses(styles.name, incoming.id === current && styles.current)} aria-expanded={incoming.id === current} onClick={() => onCurrent(incoming.id === current ? undefined : incoming.id)}>
              {incoming.path}{" "}
              <span className={styles.quiet}>
                {incoming.trace === undefined ? "" : `(${words.bringIn.found(found.get(incoming.id) ?? 0)})`} {incoming.remembered === undefined ? "" : words.bringIn.readAs(incoming.remembered)}
              </span>
            </button>
            <Button size="small" appearance="subtle" icon={<Dismiss16Regular />} aria-label={words.bringIn.remove(incoming.file.name)} onClick={() => onRemove(incoming.id)} />
          </div>
          {incoming.problem !== undefined && (
            <p className={styles.problem} role="alert">
              {words.bringIn.cannotRead(incoming.file.name)}: {incoming.problem}{" "}
              {incoming.recording !== undefined && incoming.id !== current && (
                <Button size="small" onClick={() => onCurrent(incoming.id)}>
                  {words.bringIn.correct}
                </Button>
              )}
            </p>
          )}
          {files.length > 1 && incoming.trace !== undefined && (
            <div className={styles.own}>
              <Input size="small" list={ATHLETES_LIST} autoComplete="off" aria-label={`${words.bringIn.athlete}, ${incoming.file.name}`} placeholder={common.athlete === "" ? words.bringIn.athlete : common.athlete} value={incoming.athlete} onChange={(_, data) => onOwn(incoming.id, { athlete: data.value })} />
              <Select size="small" aria-label={`${words.bringIn.test}, ${incoming.file.name}`} value={incoming.test ?? common.test} onChange={(_, data) => onOwn(incoming.id, { test: data.value as Test })}>
                {TESTS.map((test) => (
                  <option key={test} value={test}>
                    {test}
                  </option>
                ))}
              </Select>
              <Input size="small" type="date" aria-label={`${words.bringIn.date}, ${incoming.file.name}`} value={incoming.date || common.date} onChange={(_, data) => onOwn(incoming.id, { date: data.value })} />
            </div>
          )}
        </li>
      ))}
    </ul>
  );
}
