import { eventName } from "../../src/wording/eventName.ts";
import { phaseName } from "../../src/wording/phaseName.ts";
import type { EventName, Phase } from "../../src/protocols/Analysis.ts";
import type { PlotNames } from "../plots/plotDataOf.ts";
import { words } from "./words.ts";

/** Names on a plot, in the words of the catalogue. */
export const PLOT_NAMES: PlotNames = {
  event: (name) => eventName(name as EventName),
  phase: (name) => phaseName(name as Phase["name"]),
  series: (quantity, side) => (side === "total" ? words.plot.quantities[quantity] : `${words.plot.quantities[quantity]}, ${words.sides[side].toLocaleLowerCase()}`),
};
