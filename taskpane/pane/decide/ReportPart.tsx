import { useEffect, useMemo, useState, type ReactNode } from "react";
import { createPortal } from "react-dom";
import { Button } from "@fluentui/react-components";
import { resultCautions } from "../../../src/wording/cautions.ts";
import type { ReadingRole } from "../../../src/wording/readings.ts";
import { VERSION } from "../../../src/version.ts";
import { dropChart, followChart, loadChart } from "../../decide/charts.ts";
import { reportOf, type AthleteReport } from "../../decide/reportOf.ts";
import { squadsOf } from "../../decide/squadsOf.ts";
import type { Squad } from "../../decide/squadOf.ts";
import { chartPicture, type ChartSpec } from "../../plots/chart.ts";
import { athleteReportEdits, resultsPlace, squadReportEdits, writeReports, type ReportPicture } from "../../workbook/report.ts";
import { usePane } from "../PaneContext.tsx";
import { protocolWords } from "../protocolWords.ts";
import { metricName } from "../texts.ts";
import { words } from "../words.ts";
import { textOf } from "./FollowPart.tsx";
import { readingTitle } from "./headings.ts";
import { Choice, kept, useDecideStyles } from "./parts.tsx";
import { athleteText, lineText, squadText } from "./reportText.ts";
import { SquadTableView } from "./SquadPart.tsx";
import type { DecideData } from "./useDecide.ts";

const SQUAD = "\u0001squad";
const ALL = "\u0001all";
const PICTURE = { width: 560, height: 260 };

/** Reports: sheets of formulas, a page to print, plain text. */
export function ReportPart({ data }: { readonly data: DecideData }): ReactNode {
  const styles = useDecideStyles();
  const { host, perform, say } = usePane();
  const [chosen, setChosen] = useState<string | undefined>();
  const [printing, setPrinting] = useState(0);
  const { live, recorded, settings, head, squads: groups } = data;
  const athletes = useMemo(() => [...new Set(live.filter((trial) => trial.use === "keep").map((trial) => trial.athlete))].sort((a, b) => a.localeCompare(b)), [live]);
  const options = [...athletes, SQUAD, ALL];
  const wanted = kept(chosen, options);
  const reports = useMemo(
    () => (wanted === SQUAD ? [] : wanted === ALL ? athletes : athletes.filter((athlete) => athlete === wanted)).map((athlete) => reportOf(live, recorded, athlete, head, metricName, settings)).filter((report) => report.sessions.length > 0),
    [wanted, athletes, live, recorded, head, settings],
  );
  const squads = useMemo(() => (wanted === SQUAD || wanted === ALL ? squadsOf(live, head, settings) : []), [wanted, live, head, settings]);
  const title = words.decide.squadTitle(new Set(groups.values()).size === 1 ? [...groups.values()][0] : "");
  const made = words.decide.made(new Date().toISOString().slice(0, 10), VERSION, settings.digest);
  const text = [...reports.map((report) => athleteText(report, made)), ...(squads.length > 0 ? [squadText(squads, title, made)] : [])].join("\n\n\n");

  const write = (): void => {
    const count = reports.length + (squads.length > 0 ? 1 : 0);
    void perform(async () => {
      const place = await resultsPlace(host);
      if (place === undefined) throw new Error(words.decide.noReport);
      const shared = { about: words.decide.aboutUncertainty, made, metricName, protocol: protocolWords, heading: readingTitle, doubtful: words.decide.doubtfulCount, role: (role: ReadingRole) => words.decide.roles[role], verdict: words.decide.verdictWord, unknown: words.decide.uncertaintyUnknown, fewer: words.decide.fewer(Number(settings.values["session-trials"])) };
      const pages = [
        ...reports.map((report) => ({ ...athleteReportEdits(report, place, settings, { ...shared, title: words.decide.reportTitle(report.athlete) }), pictures: picturesOf(report) })),
        ...(squads.length > 0 ? [squadReportEdits(squads, place, settings, { ...shared, title })] : []),
      ];
      const applied = await writeReports(host, pages);
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

  useEffect(() => {
    if (printing > 0) window.print();
  }, [printing]);

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
        <Button size="small" onClick={() => setPrinting(printing + 1)}>
          {words.decide.print}
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
      {printing > 0 &&
        createPortal(
          <div id="leapsheet-print">
            <style>{PRINT_STYLE}</style>
            {reports.map((report) => (
              <AthletePage key={report.athlete} report={report} made={made} />
            ))}
            {squads.length > 0 && <SquadPage squads={squads} title={title} made={made} />}
          </div>,
          document.body,
        )}
    </>
  );
}

const PRINT_STYLE = `
@page { margin: 12mm; }
#leapsheet-print { display: none; }
@media print {
  html, body { height: auto !important; overflow: visible !important; display: block !important; background: #fff !important; }
  body > *:not(#leapsheet-print) { display: none !important; }
  #leapsheet-print { display: block; color: #000; font: 9pt/1.3 "Segoe UI", system-ui, sans-serif; }
  #leapsheet-print section { break-after: page; }
  #leapsheet-print section:last-of-type { break-after: auto; }
  #leapsheet-print h1 { font-size: 14pt; margin: 0; } #leapsheet-print h2 { font-size: 9.5pt; margin: 6pt 0 1pt; break-after: avoid; }
  #leapsheet-print p { margin: 2pt 0; } #leapsheet-print table { border-collapse: collapse; } #leapsheet-print th, #leapsheet-print td { text-align: left; padding: 1pt 8pt 1pt 0; border-bottom: 0.5pt solid #999; font-size: 8pt; font-weight: normal; }
  #leapsheet-print .sessions { display: grid; grid-template-columns: 1fr 1fr; gap: 0 12pt; } #leapsheet-print .sessions > div { break-inside: avoid; }
  #leapsheet-print .pictures { display: flex; flex-wrap: wrap; gap: 6pt; } #leapsheet-print img { width: 8.5cm; break-inside: avoid; } #leapsheet-print .note { font-size: 7.5pt; color: #333; }
}`;

function AthletePage({ report, made }: { readonly report: AthleteReport; readonly made: string }): ReactNode {
  return (
    <section>
      <h1>{words.decide.reportTitle(report.athlete)}</h1>
      <p className="note">{made}</p>
      <div className="sessions">
        {report.sessions.map(({ session, lines, doubtful }) => (
          <div key={session.protocolText}>
            <h2>{`${session.date === "" ? words.decide.noDate : session.date}, ${protocolWords(session.protocolText)}`}</h2>
            <table>
              <tbody>
                {lines.map((line) => (
                  <tr key={line.name}>
                    <th scope="row">{metricName(line.name)}</th>
                    <td>{lineText(line)}</td>
                  </tr>
                ))}
              </tbody>
            </table>
            {doubtful > 0 && <p className="note">{words.decide.doubtfulCount(doubtful)}</p>}
          </div>
        ))}
      </div>
      {report.readings.map((reading) => (
        <div key={reading.kind + reading.about + reading.protocols.join("/") + reading.date}>
          <h2>{`${readingTitle(reading)}: ${reading.reading.verdictWord}`}</h2>
          <p className="note">{`${reading.date}; ${reading.protocols.map(protocolWords).join(" / ")}`}</p>
          <p>{reading.reading.text}</p>
        </div>
      ))}
      <div className="pictures">
        {picturesOf(report).map((picture) => (
          <img key={picture.altText} src={picture.dataUrl} alt={picture.altText} />
        ))}
      </div>
      <Cautions />
    </section>
  );
}

function SquadPage({ squads, title, made }: { readonly squads: readonly Squad[]; readonly title: string; readonly made: string }): ReactNode {
  return (
    <section>
      <h1>{title}</h1>
      <p className="note">{made}</p>
      {squads.map((squad) => (
        <SquadTableView key={squad.protocolText} squad={squad} />
      ))}
      <Cautions />
    </section>
  );
}

function Cautions(): ReactNode {
  return (
    <>
      {[words.decide.aboutUncertainty, ...resultCautions()].map((text) => (
        <p key={text} className="note">
          {text}
        </p>
      ))}
    </>
  );
}

/** The charts of a report as pictures: each series over time, each profile. */
function picturesOf({ followed, drops, loads }: AthleteReport): readonly ReportPicture[] {
  const picture = (spec: ChartSpec, altText: string): ReportPicture => ({ dataUrl: chartPicture(spec, PICTURE.width, PICTURE.height), ...PICTURE, altText });
  return [
    ...followed.map((each) => picture(followChart(each, `${metricName(each.name)}${each.unit === "" ? "" : `, ${each.unit}`}`, words.decide.axes.date), textOf(each))),
    ...drops.flatMap(({ profile, reading, protocolText }) => (profile === undefined || reading === undefined ? [] : [picture(dropChart(profile, words.decide.axes.dropHeight, words.decide.axes.rsi), `${words.decide.drop}, ${protocolWords(protocolText)}. ${reading.parts[0].text}`)])),
    ...loads.flatMap(({ profile, reading, protocolText }) => (profile === undefined || reading === undefined ? [] : [picture(loadChart(profile, words.decide.axes.velocity, words.decide.axes.force), `${words.decide.load}, ${protocolWords(protocolText)}. ${reading.parts[0].text}`)])),
  ];
}
