import type { PageTexts } from "../PageTexts.ts";
import { CUES } from "./cues.ts";
import { SHEETS } from "./sheets.ts";
import { UNCERTAINTY } from "./uncertainty.ts";

/** English, what only pages show. */
export const PAGE_EN: PageTexts = {
  phases: {
    weighing: "Weighing",
    unweighting: "Unweighting",
    unloading: "Unloading",
    yielding: "Yielding",
    braking: "Braking",
    propulsion: "Propulsion",
    flight: "Flight",
    landing: "Landing",
    contact: "Contact",
    fall: "Fall",
    hold: "Hold",
    pull: "Pull",
  },
  actions: {
    note: "Note",
    corrected: "Corrected",
    look: "Look",
    "leave out": "Leave out",
    "not checked": "Not checked",
  },
  groups: {
    T: "a true time base",
    B: "body weight",
    V: "velocity by integration",
    L: "a landing on the plates",
    A: "left and right",
  },
  cues: CUES,
  uncertainty: UNCERTAINTY,
  recording: {
    differs: "The recording differs from the one handed out.",
    "of another": "The recording is not the one handed out, but that of {student}.",
    missing: "The recording that was handed out is not in the workbook.",
  },
  sheets: SHEETS,
  opening: {
    notInExcel: "This page is the side pane of an Excel add-in; it opens inside Excel. Without Excel, use the page with the embedded sheet.",
    excelTooOld: "This Excel lacks {lacks}, which Leapsheet needs. It runs in Excel on the web, Microsoft 365, and Excel 2021 or later on Windows and Mac.",
  },
};
