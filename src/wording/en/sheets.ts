import type { PageTexts } from "../PageTexts.ts";

/** What the sheets say that people read; heads by which rows and columns are found again stand with the code that looks for them. */
export const SHEETS: PageTexts["sheets"] = {
  report: {
    date: "date",
    protocol: "protocol",
    quantity: "quantity",
    unit: "unit",
    value: "value",
    u: "±",
    n: "n",
    error: "typical error of a trial",
    freedom: "degrees of freedom",
    betweenDays: "typical error between days",
    forPlaces: "typical error for places: between days, else within a day",
  },
  numbers: {
    trials: "Every trial; the pages of the report are made of it.",
    record: "Every recorded trial, as it was recorded last.",
    squad: "What the squad's own trials give, and the last recorded session of each person.",
    quantity: "quantity",
    from: "from",
    unit: "unit",
    error: "typical error",
    freedom: "degrees of freedom",
    low: "low",
    high: "high",
    worthwhile: "smallest worthwhile change",
    value: "value",
  },
  settings: { unit: "unit", meaning: "what it means", allowed: "allowed", default: "default", source: "source" },
  sessions: { notCombined: "not combined: {reason}" },
  charts: { title: "{metric}, trials that are not left out", trial: "trial", noProtocol: "no protocol", left: "{metric}, left", right: "{metric}, right" },
  coursework: { test: "test", seed: "seed", noise: "noise, N", faults: "faults", students: "students", version: "version" },
  demo: { squad: "Invented demo squad", note: "invented" },
};
