import { memo, type ReactNode } from "react";
import { makeStyles, tokens } from "@fluentui/react-components";
import { formatNumber } from "../format.ts";
import { shownUnit, type ShownUnit } from "../shownUnits.ts";
import { headOf } from "../texts.ts";
import { useGrowing } from "../useGrowing.ts";
import { useUnits } from "../useUnits.tsx";
import type { PlannedRow } from "../../workbook/WorkbookModel.ts";
import { words } from "../words.ts";
import { fillsWords } from "./fillsWords.ts";
import type { PlanRow } from "./planOf.ts";

const useStyles = makeStyles({
  scroll: { overflowX: "auto", maxHeight: "360px" },
  table: { width: "100%", borderCollapse: "collapse", fontSize: tokens.fontSizeBase200, fontVariantNumeric: "tabular-nums", "& th, & td": { padding: "3px 4px", textAlign: "left", verticalAlign: "top", borderBottom: `1px solid ${tokens.colorNeutralStroke3}` }, "& thead th": { position: "sticky", top: 0, zIndex: 1, backgroundColor: tokens.colorNeutralBackground1 }, "& input": { width: "18px", height: "18px", margin: 0, accentColor: tokens.colorCompoundBrandBackground }, "& tbody th": { fontWeight: tokens.fontWeightRegular, overflowWrap: "anywhere" } },
  quiet: { color: tokens.colorNeutralForeground2 },
});

export interface PlanTableProps {
  readonly rows: readonly PlanRow[];
  /** Keys of rows that the person takes out. */
  readonly left: ReadonlySet<string>;
  /** Planned rows that will be filled, by key. */
  readonly fills: ReadonlyMap<string, PlannedRow>;
  readonly onLeave: (key: string, leave: boolean) => void;
}

/** What will be written, a row a trial, before it is written. */
export function PlanTable({ rows, left, fills, onLeave }: PlanTableProps): ReactNode {
  const styles = useStyles();
  const units = useUnits();
  const time = shownUnit("s", units);
  const shown = useGrowing(rows.length);
  return (
    <div className={styles.scroll} tabIndex={0} role="group" aria-label={words.bringIn.willWrite}>
      <table className={styles.table}>
        <thead>
          <tr>
            <th scope="col">{words.bringIn.use}</th>
            <th scope="col">{words.bringIn.athlete}</th>
            <th scope="col">{words.bringIn.test}</th>
            <th scope="col">{words.bringIn.file}</th>
            <th scope="col">{headOf(words.bringIn.start, time.unit)}</th>
            <th scope="col">{headOf(words.bringIn.length, time.unit)}</th>
          </tr>
        </thead>
        <tbody>
          {rows.slice(0, shown).map((row, place) => (
            <PlanLine key={`${row.key} ${place}`} row={row} left={left.has(row.key)} fills={fillsWords(row.draft, fills.get(row.key), units)} time={time} onLeave={onLeave} quiet={styles.quiet} />
          ))}
        </tbody>
      </table>
    </div>
  );
}

const PlanLine = memo(function PlanLine({ row, left, fills, time, quiet, onLeave }: { readonly row: PlanRow; readonly left: boolean; readonly fills?: string; readonly time: ShownUnit; readonly quiet: string; readonly onLeave: (key: string, leave: boolean) => void }): ReactNode {
  const print = (seconds: number, decimals: number): string => formatNumber(seconds * time.factor, Math.max(decimals - Math.round(Math.log10(time.factor)), 0));
  return (
    <tr>
      <td>
        <input type="checkbox" aria-label={`${words.bringIn.use}: ${row.draft.file}, ${print(row.draft.startInFile, 2)} ${time.unit}`} checked={!row.already && !left} disabled={row.already} onChange={(event) => onLeave(row.key, !event.target.checked)} />
      </td>
      <td>{row.draft.athlete === "" ? "\u2013" : row.draft.athlete}</td>
      <td>{row.draft.protocol.test}</td>
      <th scope="row">
        {row.draft.file}
        {fills !== undefined && <div>{fills}</div>}
        {row.already && <div className={quiet}>{words.bringIn.already}</div>}
        {row.note !== undefined && <div className={quiet}>{row.note}</div>}
        {!row.found && <div className={quiet}>{words.bringIn.found(0)}</div>}
      </th>
      <td>{print(row.draft.startInFile, 2)}</td>
      <td>{print(row.length, 1)}</td>
    </tr>
  );
});
