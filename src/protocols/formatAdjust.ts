import type { Adjust } from "./Adjust.ts";
import { EVENT_NAMES } from "./eventNames.ts";

/**
 * The text of a trial's own facts in their one canonical order: `bodyWeight=589; mass=61; onset=1.734; takeoff=2.479`.
 *
 * @param adjust Body weight in N, mass in kg, events in s from sample zero.
 * @returns Text that `parseAdjust` reads back to the same numbers; blank where nothing is adjusted.
 */
export function formatAdjust(adjust: Adjust): string {
  const parts: string[] = [];
  if (adjust.bodyWeight !== undefined) parts.push(`bodyWeight=${adjust.bodyWeight}`);
  if (adjust.mass !== undefined) parts.push(`mass=${adjust.mass}`);
  for (const name of EVENT_NAMES) {
    const time = adjust.events.get(name);
    if (time !== undefined) parts.push(`${name}=${time}`);
  }
  return parts.join("; ");
}
