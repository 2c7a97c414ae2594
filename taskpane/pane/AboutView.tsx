import { useState, type ReactNode } from "react";
import { Button, makeStyles, Spinner, tokens } from "@fluentui/react-components";
import { FUNCTIONS } from "../../functions/index.ts";
import { fullReference, REFERENCES } from "../../src/catalogue/references.ts";
import { VERSION } from "../../src/version.ts";
import { CautionList } from "./CautionList.tsx";
import { FilesSection } from "./FilesSection.tsx";
import { formatNumber } from "./format.ts";
import { sentenceOf } from "./PaneContext.tsx";
import { Section, ViewTitle } from "./SectionHead.tsx";
import { words } from "./words.ts";

const useStyles = makeStyles({
  list: { margin: 0, paddingLeft: "18px", display: "flex", flexDirection: "column", gap: "4px" },
  quiet: { margin: "0 0 8px", color: tokens.colorNeutralForeground2, fontSize: tokens.fontSizeBase200 },
  scroll: { overflowX: "auto" },
  table: { width: "100%", borderCollapse: "collapse", fontSize: tokens.fontSizeBase200, "& th, & td": { padding: "3px 4px", textAlign: "left", verticalAlign: "top", borderBottom: `1px solid ${tokens.colorNeutralStroke3}` }, "& tbody th": { fontWeight: tokens.fontWeightRegular, overflowWrap: "anywhere" }, "& td": { fontVariantNumeric: "tabular-nums" } },
});

interface Check {
  readonly rows: readonly (readonly unknown[])[];
  readonly problem?: string;
}

/** What this is, what it will not do, who may be tested, and a check of the numbers on this machine. */
export function AboutView(): ReactNode {
  const styles = useStyles();
  const [check, setCheck] = useState<Check | undefined>();
  const [running, setRunning] = useState(false);

  const run = (): void => {
    setRunning(true);
    // Lets the spinner appear before the machine is busy.
    setTimeout(() => {
      try {
        const table = FUNCTIONS.get("SELF_CHECK")!() as unknown[][];
        setCheck({ rows: table.slice(1) });
      } catch (thrown) {
        setCheck({ rows: [], problem: sentenceOf(thrown) });
      }
      setRunning(false);
    }, 30);
  };
  const passed = check?.rows.filter((row) => row[3] === true).length ?? 0;
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
        <Button size="small" onClick={run} disabledFocusable={running}>
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
                      <th scope="row">{String(row[0])}</th>
                      <td>{shown(row[1])}</td>
                      <td>{shown(row[2])}</td>
                      <td>{row[3] === true ? words.about.yes : <strong>{words.about.no}</strong>}</td>
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

function shown(value: unknown): string {
  return typeof value === "number" ? formatNumber(value, Math.abs(value) >= 100 ? 2 : 5) : String(value);
}
