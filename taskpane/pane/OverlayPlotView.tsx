import { useEffect, useMemo, useRef, type ReactNode } from "react";
import { makeStyles, tokens } from "@fluentui/react-components";
import type { EventName } from "../../src/protocols/Analysis.ts";
import { overlayData } from "../plots/overlayData.ts";
import { plotColours } from "../plots/plotColours.ts";
import { DASHES, tracePlot } from "../plots/tracePlot.ts";
import type { AnalysedTrial } from "./analyseTrial.ts";
import { formatDate, formatValue } from "./format.ts";
import { headline } from "./headline.ts";
import { inUnits } from "./shownUnits.ts";
import { headOf, metricName, plotAxes, PLOT_NAMES } from "./texts.ts";
import { useTheme } from "./useTheme.ts";
import { useUnits } from "./useUnits.tsx";
import { words } from "./words.ts";

const MOST_OTHERS = 4;

/** The event at which trials are laid over each other: where the feet leave, or where the pull begins. */
export function alignedAt(trial: AnalysedTrial): EventName {
  return trial.analysis?.protocol.test === "IMTP" ? "pullOnset" : "takeoff";
}

const useStyles = makeStyles({
  legend: { listStyle: "none", margin: "4px 0 0", padding: 0, fontSize: tokens.fontSizeBase200 },
  key: { display: "flex", gap: "6px", alignItems: "center", "& svg": { width: "30px", height: "8px", flexShrink: 0 } },
});

/** This trial and the athlete's others over each other, aligned at take-off; the list beside it reads the same in words. */
export function OverlayPlotView({ trial, others }: { readonly trial: AnalysedTrial; readonly others: readonly AnalysedTrial[] }): ReactNode {
  const styles = useStyles();
  const theme = useTheme();
  const units = useUnits();
  const stage = useRef<HTMLDivElement>(null);
  const shown = useMemo(
    () =>
      [trial, ...others.filter((other) => other.row.protocol === trial.row.protocol)]
        .filter((candidate) => candidate.analysis?.events.has(alignedAt(trial)) === true)
        .slice(0, MOST_OTHERS + 1),
    [trial, others],
  );
  useEffect(() => {
    if (stage.current === null || shown.length === 0) return undefined;
    const colours = plotColours(stage.current);
    stage.current.parentElement?.querySelectorAll<SVGElement>("[data-key]").forEach((key) => {
      const place = Number(key.dataset.key);
      key.style.color = place === 0 ? colours.total : colours.others[(place - 1) % colours.others.length];
    });
    const data = overlayData(
      shown.map((candidate) => ({ label: candidate.row.file, rate: candidate.analysis!.trace.rate, force: candidate.analysis!.timeSeries().force, at: candidate.analysis!.events.get(alignedAt(trial))!.time })),
      1.2,
      0.9,
    );
    const axes = plotAxes(units);
    const time = { ...axes.time, label: headOf(words.trials.timeFrom(PLOT_NAMES.event(alignedAt(trial)).toLocaleLowerCase()), axes.time.unit) };
    const plot = tracePlot(stage.current, data, { axes: { ...axes, time }, height: 190 });
    return () => plot.destroy();
  }, [shown, theme, trial, units]);
  return (
    <div>
      <div ref={stage} role="img" aria-label={words.trials.compareAt(PLOT_NAMES.event(alignedAt(trial)).toLocaleLowerCase())} />
      <ol className={styles.legend}>
        {shown.map((candidate, place) => {
          const first = headline(candidate.analysis!);
          const value = first && inUnits(first, units);
          return (
            <li key={`${candidate.row.key} ${candidate.row.row}`} className={styles.key}>
              <svg data-key={place} viewBox="0 0 30 8" aria-hidden="true" focusable="false">
                <path d="M0 4h30" stroke="currentColor" strokeWidth="2" strokeDasharray={place === 0 ? undefined : DASHES[(place - 1) % DASHES.length].join(" ")} />
              </svg>
              <span>
                {place === 0 ? words.trials.thisTrial : formatDate(candidate.row.date)} {first === undefined || value === undefined ? "" : `${metricName(first.id)} ${formatValue(value.value, value.unit, value.u)}`}
              </span>
            </li>
          );
        })}
      </ol>
    </div>
  );
}
