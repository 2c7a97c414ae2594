import { useRef, type KeyboardEvent, type ReactNode } from "react";
import { makeStyles, mergeClasses, tokens } from "@fluentui/react-components";
import type { View } from "./PaneContext.tsx";
import { words } from "./words.ts";

const useStyles = makeStyles({
  around: { flexShrink: 0, containerType: "inline-size", borderBottom: `1px solid ${tokens.colorNeutralStroke2}`, backgroundColor: tokens.colorNeutralBackground2 },
  // Two rows of four in a narrow pane; every view stays one step away.
  tabs: { display: "grid", gridTemplateColumns: "repeat(4, minmax(0, 1fr))", "@container (min-width: 720px)": { gridTemplateColumns: "repeat(8, minmax(0, 1fr))" } },
  tab: {
    minWidth: 0, minHeight: "36px", display: "flex", alignItems: "center", justifyContent: "center", gap: "4px", padding: "4px 2px 2px", overflowWrap: "anywhere",
    border: "none", borderBottom: "3px solid transparent", backgroundColor: "transparent", color: tokens.colorNeutralForeground2, fontFamily: "inherit", fontSize: tokens.fontSizeBase200, lineHeight: tokens.lineHeightBase200, cursor: "pointer",
    ":hover": { backgroundColor: tokens.colorNeutralBackground2Hover, color: tokens.colorNeutralForeground1 },
    ":focus-visible": { outline: `2px solid ${tokens.colorStrokeFocus2}`, outlineOffset: "-2px" },
  },
  chosen: { borderBottomColor: tokens.colorCompoundBrandStroke, color: tokens.colorNeutralForeground1, fontWeight: tokens.fontWeightSemibold },
  icon: { display: "flex" },
});

export interface ViewTabsProps {
  readonly views: readonly { readonly view: View; readonly icon: ReactNode }[];
  readonly view: View;
  /** Id of the panel that the tabs switch. */
  readonly panel: string;
  readonly onView: (view: View) => void;
}

/** Tabs with one stop for the tab key; arrow keys, Home and End move between them (WAI-ARIA tabs pattern). */
export function ViewTabs({ views, view, panel, onView }: ViewTabsProps): ReactNode {
  const styles = useStyles();
  const list = useRef<HTMLDivElement>(null);
  const onKeyDown = (key: KeyboardEvent): void => {
    const at = views.findIndex((entry) => `tab-${entry.view}` === (key.target as HTMLElement).id);
    const to = key.key === "ArrowRight" ? at + 1 : key.key === "ArrowLeft" ? at - 1 : key.key === "Home" ? 0 : key.key === "End" ? views.length - 1 : undefined;
    if (to === undefined) return;
    key.preventDefault();
    const next = views[(to + views.length) % views.length].view;
    onView(next);
    list.current?.querySelector<HTMLElement>(`#tab-${next}`)?.focus();
  };
  return (
    <div className={styles.around}>
      <div ref={list} role="tablist" aria-label={words.pane.views} className={styles.tabs} onKeyDown={onKeyDown}>
        {views.map((entry) => (
          <button key={entry.view} type="button" role="tab" id={`tab-${entry.view}`} aria-selected={entry.view === view} aria-controls={panel} tabIndex={entry.view === view ? 0 : -1} className={mergeClasses(styles.tab, entry.view === view && styles.chosen)} onClick={() => onView(entry.view)}>
            <span aria-hidden="true" className={styles.icon}>
              {entry.icon}
            </span>
            {words.tabs[entry.view]}
          </button>
        ))}
      </div>
    </div>
  );
}
