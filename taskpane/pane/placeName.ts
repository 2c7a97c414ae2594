import { EVENT_NAMES } from "../../src/protocols/eventNames.ts";
import type { EventName } from "../../src/protocols/Analysis.ts";
import { SETTINGS } from "../../src/settings/definitions.ts";
import { eventName } from "../../src/wording/eventName.ts";
import { inLanguage } from "../../src/wording/inLanguage.ts";
import { metricName } from "./texts.ts";
import { words } from "./words.ts";

/** A number's origin in words: an event, a setting, a metric, or a stepping stone of the working. */
export function placeName(id: string): string {
  if ((EVENT_NAMES as readonly string[]).includes(id)) return eventName(id as EventName);
  const setting = SETTINGS.find((candidate) => candidate.id === id);
  if (setting !== undefined) return inLanguage(setting.label);
  const stone = words.explain.steppingStones[id];
  if (stone !== undefined) return stone;
  const name = metricName(id);
  // An inner quantity without words of its own: its id, taken apart.
  return name === id ? id.charAt(0).toUpperCase() + id.slice(1).replace(/([A-Z])/g, (letter) => ` ${letter.toLowerCase()}`) : name;
}
