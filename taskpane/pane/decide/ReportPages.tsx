import type { ReactNode } from "react";
import { resultCautions } from "../../../src/wording/cautions.ts";
import type { AthleteReport } from "../../decide/reportOf.ts";
import type { Squad } from "../../decide/squadOf.ts";
import { chartPicture, type ChartSpec } from "../../plots/chart.ts";
import { listChartPicture } from "../../plots/listChart.ts";
import type { ReportPicture } from "../../workbook/report.ts";
import { formatValue } from "../format.ts";
import { protocolWords } from "../protocolWords.ts";
import { dayName, metricName } from "../texts.ts";
import { useUnits } from "../useUnits.tsx";
import type { UnitChoice } from "../withUnits.ts";
import { words } from "../words.ts";
import { dropSpec, followSpec, loadSpec, squadSpec } from "./chartSpecs.ts";
import { textOf } from "./FollowPart.tsx";
import { readingTitle } from "./headings.ts";
import { lineText } from "./reportText.ts";
import { SquadTableView } from "./SquadPart.tsx";

const PICTURE = { width: 560, height: 260 };

/** Look of the printed pages, and of the file of them. */
export const REPORT_STYLE = `
@page { margin: 12mm; }
#leapsheet-print { color: #000; font: 8pt/1.25 "Segoe UI", system-ui, sans-serif; }
#leapsheet-print section { break-after: page; }
#leapsheet-print section:last-of-type { break-after: auto; }
#leapsheet-print h1 { font-size: 14pt; margin: 0; }
#leapsheet-print h2 { font-size: 8.5pt; margin: 5pt 0 1pt; break-after: avoid; }
#leapsheet-print p { margin: 1pt 0; orphans: 3; widows: 3; }
#leapsheet-print table { border-collapse: collapse; width: 100%; break-inside: auto; }
#leapsheet-print thead { display: table-header-group; }
#leapsheet-print tr { break-inside: avoid; }
#leapsheet-print caption { text-align: left; font-weight: 600; padding: 4pt 0 1pt; break-after: avoid; }
#leapsheet-print th, #leapsheet-print td { text-align: left; padding: 0.5pt 6pt 0.5pt 0; border-bottom: 0.5pt solid #999; font-size: 7.5pt; font-weight: normal; vertical-align: baseline; }
#leapsheet-print thead th { font-weight: 600; }
#leapsheet-print td.number, #leapsheet-print th.number { text-align: right; white-space: nowrap; }
#leapsheet-print .sessions, #leapsheet-print .readings { columns: 2; column-gap: 14pt; }
#leapsheet-print .sessions td, #leapsheet-print .sessions thead th { white-space: nowrap; }
#leapsheet-print .sessions > div, #leapsheet-print .reading { break-inside: avoid; }
#leapsheet-print .pictures { display: flex; flex-wrap: wrap; gap: 6pt; }
#leapsheet-print img { width: 5.9cm; break-inside: avoid; }
#leapsheet-print img.list { display: block; width: 12cm; margin: 4pt 0; }
#leapsheet-print .note { font-size: 7pt; color: #333; }`;

/** One athlete: numbers of the last session of each protocol, readings, charts. */
export function AthletePage({ report, made }: { readonly report: AthleteReport; readonly made: string }): ReactNode {
  const units = useUnits();
  return (
    <section>
      <h1>{words.decide.reportTitle(report.athlete)}</h1>
      <p className="note">{made}</p>
      <div className="sessions">
        {report.sessions.map(({ session, lines, doubtful }) => (
          <div key={session.protocolText}>
            <h2>{`${dayName(session.date)}, ${protocolWords(session.protocolText, units)}`}</h2>
            <table>
              <thead>
                <tr>
                  <th scope="col">{words.decide.quantity}</th>
                  <th scope="col">{words.decide.valueAndTrials}</th>
                </tr>
              </thead>
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
      <div className="readings">
        {report.readings.map((reading) => (
          <div key={reading.kind + reading.about + reading.protocols.join("/") + reading.date} className="reading">
            <h2>{`${readingTitle(reading)}: ${reading.reading.verdictWord}`}</h2>
            <p className="note">{`${dayName(reading.date)}; ${reading.protocols.map((each) => protocolWords(each, units)).join(" / ")}`}</p>
            <p>{reading.reading.text}</p>
          </div>
        ))}
      </div>
      <div className="pictures">
        {picturesOf(report, units).map((picture) => (
          <img key={picture.altText} src={picture.dataUrl} alt={picture.altText} />
        ))}
      </div>
      <Cautions />
    </section>
  );
}

/** The squad: a table for each protocol with its n, dates and uncertainties, and the same as a chart. */
export function SquadPage({ squads, title, made }: { readonly squads: readonly Squad[]; readonly title: string; readonly made: string }): ReactNode {
  const units = useUnits();
  return (
    <section>
      <h1>{title}</h1>
      <p className="note">{made}</p>
      {squads.map((squad) => (
        <div key={squad.protocolText + squad.name}>
          <SquadTableView squad={squad} />
          {squadPictures([squad], units).map((picture) => (
            <img key={picture.altText} className="list" src={picture.dataUrl} alt={picture.altText} />
          ))}
        </div>
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
export function picturesOf({ followed, drops, loads }: AthleteReport, units: UnitChoice): readonly ReportPicture[] {
  const picture = (spec: ChartSpec, altText: string): ReportPicture => ({ dataUrl: chartPicture(spec, PICTURE.width, PICTURE.height), ...PICTURE, altText });
  return [
    ...followed.map((each) => picture(followSpec(each), textOf(each))),
    ...drops.flatMap(({ profile, reading, protocolText }) => (profile === undefined || reading === undefined ? [] : [picture(dropSpec(profile, units), `${words.decide.drop}, ${protocolWords(protocolText, units)}. ${reading.parts[0].text}`)])),
    ...loads.flatMap(({ profile, reading, protocolText }) => (profile === undefined || reading === undefined ? [] : [picture(loadSpec(profile), `${words.decide.load}, ${protocolWords(protocolText, units)}. ${reading.parts[0].text}`)])),
  ];
}

/** The squad in each protocol as a picture. */
export function squadPictures(squads: readonly Squad[], units: UnitChoice): readonly ReportPicture[] {
  return squads.flatMap((squad) => {
    if (squad.results.size < 2) return [];
    return [{ ...listChartPicture(squadSpec(squad, units), PICTURE.width), altText: squadChartText(squad, units) }];
  });
}

/** The chart of a squad in words. */
export function squadChartText({ name, unit, protocolText, results }: Squad, units: UnitChoice): string {
  const lines = [...results].map(([athlete, result]) => `${athlete} ${formatValue(result.value, unit)}`);
  return `${words.decide.squadCaption(metricName(name), protocolWords(protocolText, units), results.size)}. ${lines.join("; ")}.`;
}
