import { useState, type ReactNode } from "react";
import { Button, makeStyles, Spinner, tokens } from "@fluentui/react-components";
import { fullReference, REFERENCES } from "../../src/catalogue/references.ts";
import { VERSION } from "../../src/version.ts";
import type { CellValue } from "../host/SheetHost.ts";
import { checkInSheet, type CheckRow } from "../workbook/checkInSheet.ts";
import { CautionList } from "./CautionList.tsx";
import { FilesSection } from "./FilesSection.tsx";
import { formatNumber } from "./format.ts";
import { sentenceOf, usePane } from "./PaneContext.tsx";
import { Section, ViewTitle } from "./SectionHead.tsx";
import { words } from "./words.ts";

const useStyles = makeStyles({
  list: { margin: 0, paddingLeft: "18px", display: "flex", flexDirection: "column", gap: "4px" },
  quiet: { margin: "0 0 8px", color: tokens.colorNeutralForeground2, fontSize: tokens.fontSizeBase200 },
  scroll: { overflowX: "auto" },
  table: { width: "100%", borderCollapse: "collapse", fontSize: tokens.fontSizeBase200, "& th, & td": { padding: "3px 4px", textAlign: "left", verticalAlign: "top", borderBottom: `1px solid ${tokens.colorNeutralStroke3}` }, "& tbody th": { fontWeight: tokens.fontWeightRegular, overflowWrap: "anywhere" }, "& td": { fontVariantNumeric: "tabular-nums" } },
});

interface Check {
  readonly rows: readonly CheckRow[];
  readonly problem?: string;
}

/** What this is, what it will not do, who may be tested, and a check of the numbers on this machine. */
export function AboutView(): ReactNode {
  const styles = useStyles();
  const { host } = usePane();
  const [check, setCheck] = useState<Check | undefined>();
  const [running, setRunning] = useState(false);

  const run = async (): Promise<void> => {
    setRunning(true);
    try {
      setCheck({ rows: await checkInSheet(host) });
    } catch (thrown) {
      setCheck({ rows: [], problem: sentenceOf(thrown) });
    }
    setRunning(false);
  };
  const passed = check?.rows.filter(({ pass }) => pass).length ?? 0;
  const sources = Object.values(REFERENCES);

  return (
    <>
      <ViewTitle>{words.pane.name}</ViewTitle>
      <p>{words.about.what}</p>
      <p className={styles.quiet}>{words.about.version(VERSION)}</p>
      <FilesSection />
      <Section heading={words.about.limits}>
        <ul className={styles.list}>
          {words.about.limitsList.map((text) => (
            <li key={text}>{text}</li>
          ))}
        </ul>
      </Section>
      <CautionList heading={words.about.cautions} withResults open />
      <Section heading={words.about.check}>
        <p className={styles.quiet}>{words.about.checkHint}</p>
        <Button size="small" onClick={() => void run()} disabledFocusable={running}>
          {words.about.run}
        </Button>
        {running && <Spinner size="tiny" label={words.pane.working} />}
        {check?.problem !== undefined && <p role="alert">{check.problem}</p>}
        {check !== undefined && check.rows.length > 0 && (
          <>
            <p role="status">
              <strong>{words.about.passed(passed, check.rows.length)}</strong>
            </p>
            <div className={styles.scroll} tabIndex={0} role="group" aria-label={words.about.check}>
              <table className={styles.table}>
                <thead>
                  <tr>
                    <th scope="col">{words.about.name}</th>
                    <th scope="col">{words.about.expected}</th>
                    <th scope="col">{words.about.got}</th>
                    <th scope="col">{words.about.pass}</th>
                  </tr>
                </thead>
                <tbody>
                  {check.rows.map((row, place) => (
                    <tr key={place}>
                      <th scope="row">{row.name}</th>
                      <td>{shown(row.expected)}</td>
                      <td>{shown(row.got)}</td>
                      <td>{row.pass ? words.about.yes : <strong>{words.about.no}</strong>}</td>
                    </tr>
                  ))}
                </tbody>
              </table>
            </div>
          </>
        )}
      </Section>
      <Section heading={words.about.sources}>
        <details>
          <summary>
            {words.about.sources} ({sources.length})
          </summary>
          <ul className={styles.list}>
            {sources.map(({ key }) => (
              <li key={key}>{fullReference(key)}</li>
            ))}
          </ul>
        </details>
      </Section>
    </>
  );
}

function shown(value: CellValue): string {
  if (typeof value === "object") return value.error;
  if (typeof value === "number") return formatNumber(value, Number.isInteger(value) && Math.abs(value) >= 100 ? 0 : Math.abs(value) >= 100 ? 2 : 5);
  return value === "" ? words.about.blank : String(value);
}
