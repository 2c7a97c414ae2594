import { createContext, useContext, useEffect, useState, type ReactNode } from "react";
import { DEFAULT_RESULT_NAMES } from "../workbook/sheets.ts";
import type { PaneServices } from "../workbook/WorkbookModel.ts";
import { onQuietChange } from "./onQuietChange.ts";
import { unitsOf, type UnitChoice } from "./withUnits.ts";

const UnitsContext = createContext<UnitChoice>(unitsOf(DEFAULT_RESULT_NAMES));

/** The units that the head of Results shows: those in which a person reads lengths, times and masses anywhere in the pane. */
export function useUnits(): UnitChoice {
  return useContext(UnitsContext);
}

/** Follows the head of Results. */
export function UnitsProvider({ services: { host, workbook }, children }: { readonly services: PaneServices; readonly children: ReactNode }): ReactNode {
  const [units, setUnits] = useState(useUnits);
  useEffect(() => {
    let run = 0;
    const read = async (): Promise<void> => {
      const mine = ++run;
      try {
        const names = await workbook.resultNames();
        if (mine !== run) return;
        const next = unitsOf(names);
        setUnits((before) => (before.m === next.m && before.s === next.s && before.kg === next.kg ? before : next));
      } catch {
        // The views that need Results say what is wrong with it.
      }
    };
    void read();
    const stop = onQuietChange(host, () => void read());
    return () => {
      run = -1;
      stop();
    };
  }, [host, workbook]);
  return <UnitsContext.Provider value={units}>{children}</UnitsContext.Provider>;
}
