import { Component, useCallback, useEffect, useMemo, useRef, useState, type ReactNode } from "react";
import { Button, FluentProvider, makeStyles, tokens } from "@fluentui/react-components";
import { BookQuestionMark20Regular, DataLine20Regular, DataTrending20Regular, DocumentAdd20Regular, HatGraduation20Regular, Info20Regular, Options20Regular, TaskListSquareLtr20Regular } from "@fluentui/react-icons";
import { inLanguage } from "../../src/wording/inLanguage.ts";
import type { Applied } from "../host/SheetHost.ts";
import type { PaneServices } from "../workbook/WorkbookModel.ts";
import { AboutView } from "./AboutView.tsx";
import { BringInView } from "./BringInView.tsx";
import { BusyStrip } from "./BusyStrip.tsx";
import { DecideView } from "./decide/DecideView.tsx";
import { ExplainView } from "./ExplainView.tsx";
import { MessageStrip } from "./MessageStrip.tsx";
import { PaneContext, sentenceOf, type Message, type PaneTools, type View } from "./PaneContext.tsx";
import { PlanView } from "./PlanView.tsx";
import { SettingsView } from "./SettingsView.tsx";
import { TeachView } from "./TeachView.tsx";
import { TrialsView } from "./TrialsView.tsx";
import { UnitsProvider } from "./useUnits.tsx";
import { useTheme } from "./useTheme.ts";
import { useTouchSizes } from "./touchSizes.ts";
import { ViewTabs } from "./ViewTabs.tsx";
import { words } from "./words.ts";

const VIEWS: readonly { readonly view: View; readonly icon: ReactNode }[] = [
  { view: "plan", icon: <TaskListSquareLtr20Regular /> },
  { view: "bringIn", icon: <DocumentAdd20Regular /> },
  { view: "trials", icon: <DataLine20Regular /> },
  { view: "decide", icon: <DataTrending20Regular /> },
  { view: "explain", icon: <BookQuestionMark20Regular /> },
  { view: "settings", icon: <Options20Regular /> },
  { view: "teach", icon: <HatGraduation20Regular /> },
  { view: "about", icon: <Info20Regular /> },
];

const useStyles = makeStyles({
  provider: { height: "100%", backgroundColor: tokens.colorNeutralBackground1 },
  pane: { display: "flex", flexDirection: "column", height: "100%", minHeight: 0, overflow: "hidden", fontSize: tokens.fontSizeBase300 },
  view: { flex: "1 1 auto", minHeight: 0, overflowY: "auto", overflowX: "hidden", padding: "12px 12px 24px", outlineOffset: "-2px" },
  content: { maxWidth: "720px", margin: "0 auto" },
});

/** Steps that can be taken back one after the other. */
const MOST_PAST = 50;

/** The side pane: views under two rows of tabs, a message with its undo at the foot. */
export function Pane({ services }: { readonly services: PaneServices }): ReactNode {
  useTouchSizes();
  const styles = useStyles();
  const theme = useTheme();
  const [view, setView] = useState<View>("trials");
  const [trialToOpen, setTrialToOpen] = useState<{ readonly key: string } | undefined>();
  const [visited, setVisited] = useState(false);
  const [message, setMessage] = useState<Message | undefined>();
  /** What was written and not taken back, the last at the end. */
  const past = useRef<readonly Applied[]>([]);
  const panel = useRef<HTMLDivElement>(null);

  // An empty workbook begins with bringing something in.
  useEffect(() => {
    let current = true;
    const look = async (): Promise<void> => {
      await services.filled;
      const trials = await services.workbook.trials();
      if (current && trials.length === 0) setView("bringIn");
    };
    void look().catch(() => undefined);
    return () => {
      current = false;
    };
  }, [services]);

  const go = useCallback((next: View) => {
    setView(next);
    if (next === "bringIn") setVisited(true);
    panel.current?.scrollTo(0, 0);
  }, []);

  const say = useCallback((next: Message) => {
    if (next.applied !== undefined) past.current = [...past.current, next.applied].slice(-MOST_PAST);
    setMessage(next);
  }, []);
  const undo = async (applied: Applied): Promise<void> => {
    try {
      await services.workbook.undo(applied);
      past.current = past.current.filter((other) => other !== applied);
      setMessage({ kind: "done", text: words.pane.undone(inLanguage(applied.label)), applied: past.current.at(-1), again: true });
    } catch (thrown) {
      setMessage({ kind: "problem", text: sentenceOf(thrown) });
    }
  };

  const tools = useMemo<PaneTools>(
    () => ({
      ...services,
      say,
      async perform(action, done) {
        try {
          const applied = await action();
          say({ kind: "done", text: done, applied: applied ?? undefined });
          return true;
        } catch (thrown) {
          setMessage({ kind: "problem", text: sentenceOf(thrown) });
          return false;
        }
      },
      go,
      openTrial(key) {
        setTrialToOpen({ key });
        go("trials");
      },
      async showCell(cell) {
        try {
          await services.host.select(cell);
        } catch (thrown) {
          setMessage({ kind: "problem", text: sentenceOf(thrown) });
        }
      },
    }),
    [services, go, say],
  );

  return (
    <FluentProvider theme={theme} className={styles.provider}>
      <PaneContext.Provider value={tools}>
        <UnitsProvider services={services}>
          <div className={styles.pane} role="region" aria-label={words.pane.name}>
            <ViewTabs views={VIEWS} view={view} panel="leapsheet-view" onView={go} />
            <div id="leapsheet-view" role="tabpanel" aria-labelledby={`tab-${view}`} tabIndex={0} className={styles.view} ref={panel}>
              <div className={styles.content}>
                {/* Files on their way in stay while another view is looked at. */}
                {(visited || view === "bringIn") && (
                  <div hidden={view !== "bringIn"}>
                    <Guard>
                      <BringInView />
                    </Guard>
                  </div>
                )}
                <Guard key={view}>
                  {view === "plan" && <PlanView />}
                  {view === "trials" && <TrialsView opened={trialToOpen} />}
                  {view === "decide" && <DecideView />}
                  {view === "explain" && <ExplainView />}
                  {view === "settings" && <SettingsView />}
                  {view === "teach" && <TeachView />}
                  {view === "about" && <AboutView />}
                </Guard>
              </div>
            </div>
            <BusyStrip />
            <MessageStrip message={message} onClose={() => setMessage(undefined)} onUndo={(applied) => void undo(applied)} />
          </div>
        </UnitsProvider>
      </PaneContext.Provider>
    </FluentProvider>
  );
}

/** Keeps a fault of one view from taking the pane with it. */
class Guard extends Component<{ readonly children: ReactNode }, { readonly fault?: unknown }> {
  override state: { readonly fault?: unknown } = {};

  static getDerivedStateFromError(fault: unknown): { fault: unknown } {
    return { fault };
  }

  override render(): ReactNode {
    if (this.state.fault === undefined) return this.props.children;
    return (
      <div role="alert">
        <p>{words.pane.unexpected}.</p>
        <p>{sentenceOf(this.state.fault)}</p>
        <Button onClick={() => this.setState({ fault: undefined })}>{words.pane.unexpectedNext}</Button>
      </div>
    );
  }
}
