import { useEffect, useState, type ReactNode } from "react";
import { Button, makeStyles, ProgressBar, tokens } from "@fluentui/react-components";
import { Dismiss16Regular } from "@fluentui/react-icons";
import { recalculateInBlocks, resultBlocks, type BlocksDone } from "../workbook/recalculateInBlocks.ts";
import { usePane } from "./PaneContext.tsx";
import { sentenceOf } from "./sentenceOf.ts";
import { watchCalculation } from "./watchCalculation.ts";
import { words } from "./words.ts";

/** Before anything is said about a sheet that computes, ms. */
const PATIENCE = 8000;

const useStyles = makeStyles({
  strip: { flexShrink: 0, padding: "6px 8px 8px 12px", borderTop: `1px solid ${tokens.colorNeutralStroke1}`, backgroundColor: tokens.colorNeutralBackground3 },
  line: { display: "flex", alignItems: "flex-start", gap: "8px" },
  text: { flex: "1 1 auto", minWidth: 0, margin: "2px 0 6px", overflowWrap: "anywhere", fontSize: tokens.fontSizeBase300, lineHeight: tokens.lineHeightBase300 },
  close: { flexShrink: 0, minWidth: "auto" },
  bar: { margin: "0 0 8px" },
});

/** Where the sheet stays busy, offers to compute Results in blocks, with progress and a way to stop. */
export function BusyStrip({ patience = PATIENCE }: { readonly patience?: number }): ReactNode {
  const styles = useStyles();
  const { host, say } = usePane();
  const [busy, setBusy] = useState(false);
  const [blocks, setBlocks] = useState(false);
  const [run, setRun] = useState<{ readonly stop: AbortController; readonly progress?: BlocksDone } | undefined>();

  useEffect(() => watchCalculation(host, patience, setBusy), [host, patience]);
  useEffect(() => {
    let current = true;
    if (busy) {
      void resultBlocks(host).then(
        (found) => current && setBlocks(found.length > 0),
        () => current && setBlocks(false),
      );
    }
    return () => {
      current = false;
    };
  }, [busy, host]);

  const start = async (): Promise<void> => {
    const stop = new AbortController();
    setRun({ stop });
    try {
      const { done, all } = await recalculateInBlocks(host, { signal: stop.signal, onProgress: (progress) => setRun({ stop, progress }) });
      say({ kind: "done", text: done === all ? words.busy.done(all) : words.busy.stopped(done, all) });
    } catch (thrown) {
      say({ kind: "problem", text: sentenceOf(thrown) });
    }
    setRun(undefined);
    setBusy(false);
  };

  if (run === undefined && !busy) return null;
  const { done = 0, all = 0 } = run?.progress ?? {};
  return (
    <section className={styles.strip} aria-label={words.busy.title}>
      {run === undefined ? (
        <>
          <div className={styles.line}>
            <p className={styles.text} role="status">
              {words.busy.still(Math.round(patience / 1000))} {blocks && words.busy.offer}
            </p>
            <Button size="small" appearance="subtle" className={styles.close} icon={<Dismiss16Regular />} aria-label={words.pane.dismiss} onClick={() => setBusy(false)} />
          </div>
          {blocks && (
            <Button size="small" onClick={() => void start()}>
              {words.busy.inBlocks}
            </Button>
          )}
        </>
      ) : (
        <>
          <p className={styles.text}>{words.busy.progress(done, all)}</p>
          <ProgressBar className={styles.bar} value={all === 0 ? 0 : done / all} aria-label={words.busy.title} />
          <Button size="small" onClick={() => run.stop.abort()}>
            {words.busy.stop}
          </Button>
        </>
      )}
    </section>
  );
}
