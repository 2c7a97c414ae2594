import type { ReactNode } from "react";
import { Checkbox, makeStyles, tokens } from "@fluentui/react-components";
import { formatNumber } from "../format.ts";
import { words } from "../words.ts";
import type { PlanRow } from "./planOf.ts";

const useStyles = makeStyles({
  scroll: { overflowX: "auto", maxHeight: "360px" },
  table: { width: "100%", borderCollapse: "collapse", fontSize: tokens.fontSizeBase200, fontVariantNumeric: "tabular-nums", "& th, & td": { padding: "3px 4px", textAlign: "left", verticalAlign: "top", borderBottom: `1px solid ${tokens.colorNeutralStroke3}` }, "& thead th": { position: "sticky", top: 0, zIndex: 1, backgroundColor: tokens.colorNeutralBackground1 }, "& tbody th": { fontWeight: tokens.fontWeightRegular, overflowWrap: "anywhere" } },
  quiet: { color: tokens.colorNeutralForeground2 },
});

export interface PlanTableProps {
  readonly rows: readonly PlanRow[];
  /** Keys of rows that the person takes out. */
  readonly left: ReadonlySet<string>;
  readonly onLeave: (key: string, leave: boolean) => void;
}

/** What will be written, a row a trial, before it is written. */
export function PlanTable({ rows, left, onLeave }: PlanTableProps): ReactNode {
  const styles = useStyles();
  return (
    <div className={styles.scroll} tabIndex={0} role="group" aria-label={words.bringIn.willWrite}>
      <table className={styles.table}>
        <thead>
          <tr>
            <th scope="col">{words.bringIn.use}</th>
            <th scope="col">{words.bringIn.athlete}</th>
            <th scope="col">{words.bringIn.test}</th>
            <th scope="col">{words.bringIn.file}</th>
            <th scope="col">{words.bringIn.start}</th>
            <th scope="col">{words.bringIn.length}</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((row, place) => (
            <tr key={`${row.key} ${place}`}>
              <td>
                <Checkbox aria-label={`${words.bringIn.use}: ${row.draft.file}, ${formatNumber(row.draft.startInFile, 2)} s`} checked={!row.already && !left.has(row.key)} disabled={row.already} onChange={(_, data) => onLeave(row.key, data.checked !== true)} />
              </td>
              <td>{row.draft.athlete === "" ? "\u2013" : row.draft.athlete}</td>
              <td>{row.draft.protocol.test}</td>
              <th scope="row">
                {row.draft.file}
                {row.already && <div className={styles.quiet}>{words.bringIn.already}</div>}
                {row.note !== undefined && <div className={styles.quiet}>{row.note}</div>}
                {!row.found && <div className={styles.quiet}>{words.bringIn.found(0)}</div>}
              </th>
              <td>{formatNumber(row.draft.startInFile, 2)}</td>
              <td>{formatNumber(row.length, 1)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
