import type { ReactNode } from "react";
import { formatProtocol } from "../../../src/protocols/formatProtocol.ts";
import { TESTS, type Test } from "../../../src/protocols/Protocol.ts";
import { cautions } from "../../../src/wording/cautions.ts";
import { cues } from "../../../src/wording/cues.ts";
import { testName } from "../../../src/wording/testName.ts";
import type { PlanStep } from "../../workbook/plan.ts";
import { formatDate } from "../format.ts";
import { protocolWords } from "../protocolWords.ts";
import { useUnits } from "../useUnits.tsx";
import { words } from "../words.ts";

/** The printed pages of a plan: a running sheet, then a cue card for each of its tests. */
export function RunningSheet({ steps }: { readonly steps: readonly PlanStep[] }): ReactNode {
  const units = useUnits();
  const tests = TESTS.filter((test) => steps.some((step) => step.protocol.test === test));
  const begins = beginnings(steps);
  return (
    <>
      <section>
        <h1>{words.plan.sheetTitle(formatDate(steps[0]?.date ?? ""))}</h1>
        <table>
          <thead>
            <tr>
              <th scope="col">{words.plan.number}</th>
              <th scope="col">{words.plan.athlete}</th>
              <th scope="col">{words.plan.test}</th>
              <th scope="col">{words.plan.trial}</th>
              <th scope="col">{words.plan.restHead}</th>
              <th scope="col">{words.plan.done}</th>
              <th scope="col" className="wide">
                {words.plan.note}
              </th>
            </tr>
          </thead>
          <tbody>
            {steps.map((step, place) => (
              <tr key={place} className={begins.has(place) ? "begins" : undefined}>
                <td>{place + 1}</td>
                <td>{step.athlete}</td>
                <td>{protocolWords(formatProtocol(step.protocol), units)}</td>
                <td>{words.plan.trialOf(step.trial, step.of)}</td>
                <td>{step.rest}</td>
                <td className="box">{"\u2610"}</td>
                <td />
              </tr>
            ))}
          </tbody>
        </table>
        <General />
      </section>
      <section>
        <h1>{words.plan.cards}</h1>
        <p className="note">{words.plan.ownWords}</p>
        {tests.map((test) => (
          <CueCard key={test} test={test} />
        ))}
        <General />
      </section>
    </>
  );
}

function CueCard({ test }: { readonly test: Test }): ReactNode {
  const { setUp, say, timing, repeatIf } = cues(test);
  const general = cautions();
  return (
    <article className="card">
      <h2>{testName(test)}</h2>
      <div className="columns">
        <div>
          <h3>{words.plan.setUp}</h3>
          <Lines lines={setUp} />
          <h3>{words.plan.timing}</h3>
          <Lines lines={timing} />
        </div>
        <div className="say">
          <h3>{words.plan.say}</h3>
          <Lines lines={say} />
        </div>
        <div>
          <h3>{words.plan.repeatIf}</h3>
          <Lines lines={repeatIf} />
        </div>
      </div>
      <h3>{words.plan.heed}</h3>
      <Lines lines={cautions(test).filter((text) => !general.includes(text))} />
    </article>
  );
}

function General(): ReactNode {
  return (
    <div className="note">
      <h3>{words.plan.everyTest}</h3>
      <Lines lines={cautions()} />
    </div>
  );
}

function Lines({ lines }: { readonly lines: readonly string[] }): ReactNode {
  return (
    <ul>
      {lines.map((line) => (
        <li key={line}>{line}</li>
      ))}
    </ul>
  );
}

/** Where a thicker line stands: where another person or another test begins, whichever changes less often. */
function beginnings(steps: readonly PlanStep[]): ReadonlySet<number> {
  const changes = (of: (step: PlanStep) => string): number[] => steps.flatMap((step, at) => (at > 0 && of(step) !== of(steps[at - 1]) ? [at] : []));
  const [byPerson, byTest] = [changes((step) => step.athlete), changes((step) => formatProtocol(step.protocol))];
  return new Set(byPerson.length <= byTest.length ? byPerson : byTest);
}

/** Look of the printed pages, inside an element of this id. */
export const RUNNING_SHEET_STYLE = `
@page { margin: 14mm; }
#leapsheet-print { color: #000; background: #fff; font: 10.5pt/1.35 "Segoe UI", system-ui, sans-serif; }
#leapsheet-print section { break-after: page; } #leapsheet-print section:last-of-type { break-after: auto; }
#leapsheet-print h1 { font-size: 16pt; margin: 0 0 6pt; } #leapsheet-print h2 { font-size: 13pt; margin: 0 0 4pt; } #leapsheet-print h3 { font-size: 9pt; margin: 4pt 0 1pt; text-transform: uppercase; letter-spacing: 0.04em; }
#leapsheet-print p { margin: 2pt 0 6pt; } #leapsheet-print ul { margin: 0; padding-left: 13pt; }
#leapsheet-print table { width: 100%; border-collapse: collapse; } #leapsheet-print thead { display: table-header-group; } #leapsheet-print tr { break-inside: avoid; }
#leapsheet-print th, #leapsheet-print td { text-align: left; vertical-align: top; padding: 2.5pt 6pt 2.5pt 0; border-bottom: 0.5pt solid #888; }
#leapsheet-print .begins td { border-top: 1.5pt solid #000; } #leapsheet-print .wide { width: 20%; } #leapsheet-print td:nth-child(4) { white-space: nowrap; } #leapsheet-print .box { font-size: 13pt; line-height: 1; }
#leapsheet-print .card { border: 1pt solid #000; padding: 6pt 10pt; margin: 0 0 8pt; break-inside: avoid; }
#leapsheet-print .columns { display: grid; grid-template-columns: 1fr 1.3fr 1fr; gap: 12pt; } #leapsheet-print .say { font-size: 12pt; }
#leapsheet-print .note { font-size: 9pt; }`;
