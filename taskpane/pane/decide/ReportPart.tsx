import { useCallback, useMemo, useState, type ReactNode } from "react";
import { Button } from "@fluentui/react-components";
import { VERSION } from "../../../src/version.ts";
import { reportOf } from "../../decide/reportOf.ts";
import { squadsOf } from "../../decide/squadsOf.ts";
import { athleteReportEdits, squadReportEdits, writeReports } from "../../workbook/report.ts";
import { openReportNumbers } from "../../workbook/reportNumbers.ts";
import { today } from "../bringIn/today.ts";
import { formatDate } from "../format.ts";
import { usePane } from "../PaneContext.tsx";
import { PrintPage } from "../PrintPage.tsx";
import { metricName } from "../texts.ts";
import { useUnits } from "../useUnits.tsx";
import { words } from "../words.ts";
import { Choice, kept, useDecideStyles } from "./parts.tsx";
import { AthletePage, picturesOf, REPORT_STYLE, SquadPage, squadPictures } from "./ReportPages.tsx";
import { athleteText, squadText } from "./reportText.ts";
import { reportWords } from "./reportWords.ts";
import type { DecideData } from "./useDecide.ts";

const SQUAD = "\u0001squad";
const ALL = "\u0001all";

/** Reports: sheets of formulas, a page to print, plain text. */
export function ReportPart({ data }: { readonly data: DecideData }): ReactNode {
  const styles = useDecideStyles();
  const { host, workbook, perform, say } = usePane();
  const units = useUnits();
  const [chosen, setChosen] = useState<string | undefined>();
  const [printing, setPrinting] = useState<{ readonly count: number; readonly to: "printer" | "file" } | undefined>();
  const { live, recorded, settings, head, squads: groups } = data;
  const athletes = useMemo(() => [...new Set(live.filter((trial) => trial.use === "keep").map((trial) => trial.athlete))].sort((a, b) => a.localeCompare(b)), [live]);
  const options = [...athletes, SQUAD, ALL];
  const wanted = kept(chosen, options);
  const reports = useMemo(
    () => (wanted === SQUAD ? [] : wanted === ALL ? athletes : athletes.filter((athlete) => athlete === wanted)).map((athlete) => reportOf(live, recorded, athlete, head, metricName, settings, units)).filter((report) => report.sessions.length > 0),
    [wanted, athletes, live, recorded, head, settings, units],
  );
  const squads = useMemo(() => (wanted === SQUAD || wanted === ALL ? squadsOf(live, head, settings) : []), [wanted, live, head, settings]);
  const title = words.decide.squadTitle(new Set(groups.values()).size === 1 ? [...groups.values()][0] : "");
  const madeOn = (day: string): string => words.decide.made(day, VERSION, settings.digest);
  const made = madeOn(formatDate(today()));
  const text = [...reports.map((report) => athleteText(report, made, units)), ...(squads.length > 0 ? [squadText(squads, title, made, units)] : [])].join("\n\n\n");

  const write = (): void => {
    const count = reports.length + (squads.length > 0 ? 1 : 0);
    void perform(async () => {
      const numbers = await openReportNumbers(host, workbook, settings);
      if (numbers === undefined) throw new Error(words.decide.noReport);
      const shared = reportWords(madeOn(today()), settings, units);
      const pages = [
        ...reports.map((report) => ({ ...athleteReportEdits(report, numbers, settings, { ...shared, title: words.decide.reportTitle(report.athlete) }, units), pictures: picturesOf(report, units) })),
        ...(squads.length > 0 ? [{ ...squadReportEdits(squads, numbers, settings, { ...shared, title }), pictures: squadPictures(squads, units) }] : []),
      ];
      const applied = await writeReports(host, pages, numbers.edits());
      await host.select({ sheet: pages[0].sheet, row: 0, column: 0 });
      return applied;
    }, words.decide.reportDone(count));
  };
  const copy = async (): Promise<void> => {
    try {
      await navigator.clipboard.writeText(text);
      say({ kind: "done", text: words.decide.copied });
    } catch {
      say({ kind: "problem", text: words.decide.copyFailed });
    }
  };

  const print = (to: "printer" | "file"): void => setPrinting({ count: (printing?.count ?? 0) + 1, to });
  const done = useCallback(() => setPrinting(undefined), []);

  return (
    <>
      <p className={styles.quiet}>{words.decide.reportIntro}</p>
      <div className={styles.choices}>
        <Choice label={words.decide.reportFor} value={wanted} options={[...athletes.map((each) => [each, each] as const), [SQUAD, words.decide.squadReport], [ALL, words.decide.allOfThem]]} onChange={setChosen} />
      </div>
      <div className={styles.row}>
        <Button size="small" appearance="primary" onClick={write} disabled={reports.length + squads.length === 0}>
          {words.decide.writeReport}
        </Button>
        <Button size="small" onClick={() => print("printer")} disabled={reports.length + squads.length === 0}>
          {words.decide.print}
        </Button>
        <Button size="small" onClick={() => print("file")} disabled={reports.length + squads.length === 0}>
          {words.decide.savePage}
        </Button>
        <Button size="small" onClick={() => void copy()}>
          {words.decide.copy}
        </Button>
      </div>
      {reports.length + squads.length === 0 && <p>{words.decide.noReport}</p>}
      <details open>
        <summary>{words.decide.shown}</summary>
        <pre data-test="report-text" style={{ whiteSpace: "pre-wrap", fontFamily: "inherit" }}>
          {text}
        </pre>
      </details>
      {printing !== undefined && (
        <PrintPage key={printing.count} title={wanted === SQUAD || wanted === ALL ? title : words.decide.reportTitle(wanted)} style={REPORT_STYLE} to={printing.to} fileName={`report ${wanted === SQUAD || wanted === ALL ? "squad" : wanted}.html`} onDone={done}>
          {reports.map((report) => (
            <AthletePage key={report.athlete} report={report} made={made} />
          ))}
          {squads.length > 0 && <SquadPage squads={squads} title={title} made={made} />}
        </PrintPage>
      )}
    </>
  );
}
