import { forceUnitNamed } from "../trace/units.ts";

/** What a column holds, as far as its name, unit and group tell. */
export interface ColumnName {
  readonly kind: "time" | "counter" | "force" | "moment" | "position" | "voltage" | "other" | "unknown";
  /** Direction of a force; `vertical` where the name says so in words. */
  readonly axis?: "x" | "y" | "z" | "vertical";
  /** The name without its axis: equal for the three forces of one plate. */
  readonly stem: string;
  readonly side?: "left" | "right" | "box" | "total";
}

const TIME = new Set(["time", "times", "timestamp", "t", "zeit", "temps", "tiempo", "tempo", "tid", "tijd", "sec", "secs", "second", "seconds", "ms", "elapsed"]);
const COUNTER = new Set(["frame", "frames", "sample", "samples", "index", "row", "no", "nr", "number", "point", "item", "count", "scan"]);
const FORCE = new Set(["force", "forces", "f", "grf", "grfv", "vgrf", "fv", "kraft", "kracht", "fuerza", "forza", "newton", "newtons", "load", "fp"]);
const MOMENT = new Set(["moment", "moments", "torque", "torques", "mom", "mx", "my", "mz", "tz"]);
const POSITION = new Set(["cop", "copx", "copy", "copz", "cx", "cy", "cz", "px", "py", "pz", "position", "pos", "displacement", "marker"]);
const OTHER = new Set(["velocity", "power", "acceleration", "acc", "angle", "temperature", "emg", "trigger", "sync", "impulse", "notused"]);
const VERTICAL = new Set(["vertical", "vert", "grfv", "vgrf", "fv", "vgrfs"]);
const SIDES: Readonly<Record<string, "left" | "right" | "box" | "total">> = {
  left: "left", l: "left", lt: "left", lf: "left", links: "left", gauche: "left", izquierda: "left", izq: "left", izquierdo: "left", sinistra: "left",
  right: "right", r: "right", rt: "right", rechts: "right", droite: "right", derecha: "right", der: "right", derecho: "right", destra: "right",
  box: "box",
  total: "total", sum: "total", both: "total", combined: "total", summe: "total", gesamt: "total",
};
/** Units of what is no force, by kind. */
const UNITS: Readonly<Record<string, ColumnName["kind"]>> = {
  s: "time", sec: "time", ms: "time", us: "time", "µs": "time",
  "n.mm": "moment", nmm: "moment", "n*mm": "moment", nm: "moment", "n.m": "moment", "n*m": "moment", "n·m": "moment",
  mm: "position", cm: "position", m: "position",
  v: "voltage", mv: "voltage", "µv": "voltage",
  "m/s": "other", "m/s^2": "other", "m/s2": "other", "m/s²": "other", w: "other", deg: "other", "°": "other", "%": "other", "n/kg": "other", bw: "other", "%bw": "other", hz: "other",
};

/** Whether a text is the symbol of a unit, bare or in brackets. */
export function isUnit(text: string): boolean {
  const bare = text.replace(/^[[(]\s*|\s*[\])]$/g, "").toLowerCase();
  return Object.hasOwn(UNITS, bare) || (forceUnitNamed(bare) !== undefined && bare !== "pounds");
}

/** A name and the unit that stands behind it: `GRF[N]`, `Time (s)`, `Fz, N`, `F_left_N`. */
export function splitUnit(text: string): { name: string; unit?: string } {
  const bracket = /^(.*?)\s*[[(]\s*([^[\]()]{1,12})\s*[\])]\s*$/.exec(text);
  if (bracket && isUnit(bracket[2])) return { name: bracket[1].trim(), unit: bracket[2].trim() };
  const tail = /^(.+?)(?:_|,\s*|\s+|\/)([A-Za-zµ.·]{1,5})$/.exec(text);
  // A lone letter in small print is a direction or a side rather than a unit, except for seconds after a word for time.
  if (tail && isUnit(tail[2]) && (tail[2] === "N" || tail[2].length > 1 || TIME.has(tail[1].toLowerCase()))) return { name: tail[1], unit: tail[2] };
  return { name: text };
}

/**
 * Reads what a column holds from its name, its unit and the group above it.
 *
 * @param name Name as written, without unit.
 * @param unit Unit as written, if any.
 * @param group Name of the device or group, if any.
 * @returns Kind, axis, stem and side.
 */
export function columnName(name: string, unit: string | undefined, group: string | undefined): ColumnName {
  const words = tokens(name);
  const groupWords = group === undefined ? [] : tokens(group);
  const side = sideOf(words) ?? sideOf(groupWords);
  const { axis, prefix, stem } = axisOf(words);
  const kind = kindOf(words, groupWords, prefix, unit);
  const vertical = words.some((word) => VERTICAL.has(word)) ? "vertical" : undefined;
  return { kind, stem: `${group ?? ""}|${stem}`, ...(vertical || axis ? { axis: vertical ?? axis } : {}), ...(side ? { side } : {}) };
}

/** Words of a name, in small letters: cut at anything but letters and digits, and where a capital follows a small letter. */
function tokens(name: string): string[] {
  return name
    .slice(0, 200)
    .replace(/([a-z])([A-Z])/g, (whole, a: string, b: string, at: number) => (at === 0 ? whole : `${a} ${b}`))
    .toLowerCase()
    .split(/[^\p{L}\p{N}]+/u)
    .filter((word) => word !== "");
}

function sideOf(words: readonly string[]): ColumnName["side"] {
  for (const word of words) if (Object.hasOwn(SIDES, word)) return SIDES[word];
  for (const word of words) {
    const ending = /^(?:f[xyz]?|grf[xyz]?|vgrf|force)(l|r|left|right)$/.exec(word) ?? /^(l|r|left|right)(?:f[xyz]?|grf[xyz]?|vgrf|force|foot|plate)$/.exec(word);
    if (ending) return ending[1].startsWith("l") ? "left" : "right";
  }
  return undefined;
}

/** The word that names a direction: `fz`, `vy`, `z`, `fz2`, `grfz`, or a last 1, 2, 3 after a word such as `f2`. */
function axisOf(words: readonly string[]): { axis?: "x" | "y" | "z"; prefix: string; stem: string } {
  for (let i = words.length - 1; i >= 0; i--) {
    const match = /^(|f|v|grf|force|m|p|c|cop|l?f|r?f|lgrf|rgrf)([xyz])(\d*)(l|r|left|right)?$/.exec(words[i]);
    if (!match) continue;
    const rest = [...words.slice(0, i), `${match[1]}*${match[3]}${match[4] ?? ""}`, ...words.slice(i + 1)];
    return { axis: match[2] as "x" | "y" | "z", prefix: match[1], stem: rest.join(" ") };
  }
  const last = words.at(-1) ?? "";
  const before = words.at(-2) ?? "";
  const numbered = /^(f|m|p|grf)(\d+)$/.exec(before);
  if (numbered && /^[123]$/.test(last)) {
    return { axis: "xyz"[Number(last) - 1] as "x" | "y" | "z", prefix: numbered[1], stem: words.slice(0, -1).join(" ") };
  }
  return { prefix: "", stem: words.join(" ") };
}

function kindOf(words: readonly string[], groupWords: readonly string[], prefix: string, unit: string | undefined): ColumnName["kind"] {
  const joined = words.join("");
  const bare = words.map((word) => word.replace(/\d+$/, ""));
  if (words.some((word) => TIME.has(word)) || joined === "subtime") return "time";
  if (words.some((word) => COUNTER.has(word)) || joined === "subframe") return "counter";
  if (unit !== undefined) {
    if (forceUnitNamed(unit)) return "force";
    const known = unit.toLowerCase();
    if (Object.hasOwn(UNITS, known)) return UNITS[known];
  }
  if (OTHER.has(joined) || words.some((word) => OTHER.has(word))) return "other";
  if (bare.some((word) => MOMENT.has(word)) || prefix === "m") return "moment";
  if (bare.some((word) => POSITION.has(word)) || prefix === "p" || prefix === "c" || prefix === "cop") return "position";
  if (prefix !== "" && prefix !== "v") return "force";
  if (words.some((word) => FORCE.has(word) || VERTICAL.has(word) || /^(?:f|fp|grf|force|vgrf)(?:\d+|l|r|left|right)$/.test(word))) return "force";
  if (groupWords.some((word) => MOMENT.has(word))) return "moment";
  if (groupWords.some((word) => POSITION.has(word))) return "position";
  if (groupWords.some((word) => FORCE.has(word))) return "force";
  return "unknown";
}
