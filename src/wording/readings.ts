import type { CombinedTests } from "../sessions/combineTests.ts";
import type { LoadProfile } from "../sessions/loadProfile.ts";
import type { SideHistory } from "../sessions/sideHistory.ts";
import type { AsymmetryVerdict } from "../statistics/asymmetryVerdict.ts";
import type { BaselineBand } from "../statistics/baselineBand.ts";
import type { DropHeightProfile, ProfilePoint } from "../statistics/dropHeightProfile.ts";
import type { IndividualChange } from "../statistics/individualChange.ts";
import type { SideRuleAnswer } from "../statistics/sideRule.ts";
import { fillTemplate } from "./fillTemplate.ts";
import { inLanguage } from "./inLanguage.ts";
import { type Language, textsOf } from "./textsOf.ts";

/** What a part of a reading is: shown apart in the pane, in this order. */
export type ReadingRole = "components" | "number" | "reading" | "next" | "caution";

/** A short careful reading of numbers: components first, then the number, its reading, what to look at next, cautions. */
export interface Reading {
  /** All parts as one paragraph. */
  readonly text: string;
  readonly parts: readonly { readonly role: ReadingRole; readonly text: string }[];
  /** A word or two for a cell or a badge. */
  readonly verdictWord: string;
}

/** How a quantity is printed. */
export interface Printed {
  readonly name: string;
  /** Unit after each number; empty for none. */
  readonly unit: string;
  readonly better?: "higher" | "lower" | "neither";
}

/** Units in which a reading of a profile prints lengths, times and masses. */
export interface ReadingUnits {
  readonly m: ReadingUnit;
  readonly s: ReadingUnit;
  readonly kg: ReadingUnit;
}

/** SI value times factor = value in `unit`. */
export interface ReadingUnit {
  readonly unit: string;
  readonly factor: number;
}

const SI: ReadingUnits = { m: { unit: "m", factor: 1 }, s: { unit: "s", factor: 1 }, kg: { unit: "kg", factor: 1 } };

/** The two cuts of a ratio; editable, since they are common practice. */
export interface Cuts {
  readonly low: number;
  readonly high: number;
}

type Values = Readonly<Record<string, number | string | undefined>>;

/** T score below which a part counts as low: one standard deviation under the squad. Common practice. */
const LOW_T_SCORE = 40;
/** Sessions in a row with one side higher that make it steady. Common practice. */
const STEADY_SESSIONS = 3;
/** Sessions from which a person's own spread is reliable. Common practice. */
const ENOUGH_SESSIONS = 8;

/**
 * Reading of the countermovement jump over the squat jump; undecided where the limits reach across a cut.
 *
 * @param combined Ratio (no unit) or augmentation (%) with its components.
 * @param quantity Name and unit of the components.
 * @param cuts Cuts of the ratio, no unit.
 * @param language Language, no unit.
 * @returns The reading, no unit.
 * @see Van Hooren & Zolotarjova (2017); the cuts are common practice.
 */
export function readEccentricUtilisation(combined: CombinedTests, quantity: Printed, cuts: Cuts = { low: 1, high: 1.1 }, language?: Language): Reading {
  const say = sayer(language);
  const used = cutsFor(combined, cuts);
  const { place, text } = placed(say, combined, used, "eur");
  return reading(say(`verdict.${place}`), [
    ["components", components(say, combined, ["countermovement", "squat"], quantity.unit)],
    ["number", ratioSentence(say, combined, language)],
    ["reading", text],
    ["next", say("eur.next")],
    ["caution", say("cuts", { low: cut(used.low, combined), high: cut(used.high, combined) })],
    ...fewTrials(say, combined),
  ]);
}

/**
 * Reading of the peak force of a jump over that of the pull; undecided where the limits reach across a cut.
 *
 * @param combined Index with its components, no unit.
 * @param cuts Cuts of the index, no unit.
 * @param language Language, no unit.
 * @returns The reading, no unit.
 * @see Comfort et al. (2018); the bands are common practice.
 */
export function readDynamicStrength(combined: CombinedTests, cuts: Cuts = { low: 0.6, high: 0.8 }, language?: Language): Reading {
  const say = sayer(language);
  const { place, text } = placed(say, combined, cuts, "dsi");
  return reading(say(`verdict.${place}`), [
    ["components", `${components(say, combined, ["jump", "pull"], "N")} ${say(`dsi.${combined.basis ?? "gross"}`)}`],
    ["number", ratioSentence(say, combined, language)],
    ["reading", text],
    ["next", say("dsi.next")],
    ["caution", say("cuts", { low: cut(cuts.low, combined), high: cut(cuts.high, combined) })],
    ...fewTrials(say, combined),
  ]);
}

/**
 * Reading of the gain from the arm swing; undecided where the limits hold zero.
 *
 * @param combined Gain with its components, in %.
 * @param quantity Name and unit of the components.
 * @param language Language, no unit.
 * @returns The reading, no unit.
 * @see Lees et al. (2004).
 */
export function readArmSwing(combined: CombinedTests, quantity: Printed, language?: Language): Reading {
  return aroundZero(combined, quantity, ["withArms", "withoutArms"], { above: "gain", below: "loss", prefix: "arms" }, language);
}

/**
 * Reading of both limbs against each alone; undecided where the limits hold zero.
 *
 * @param combined Index with its components, in %.
 * @param quantity Name and unit of the components.
 * @param language Language, no unit.
 * @returns The reading, no unit.
 * @see Howard & Enoka (1991), from memory.
 */
export function readBilateralIndex(combined: CombinedTests, quantity: Printed, language?: Language): Reading {
  return aroundZero(combined, quantity, ["both", "left", "right"], { above: "facilitation", below: "deficit", prefix: "bilateral" }, language);
}

/** Reactive strength with its parts, and a squad to stand against where there is one. */
export interface ReactiveStrength {
  readonly rsi: number;
  /** `m/s` on the basis of height, empty on that of flight time. */
  readonly unit: string;
  /** Jump height, m. */
  readonly height: number;
  /** Contact time, s. */
  readonly contactTime: number;
  readonly squad?: { readonly heightTScore: number; readonly indexTScore: number; readonly n: number };
}

/**
 * Reading of reactive strength: which of its parts, contact or height, holds it down.
 *
 * @param result Index in its unit, height in m, contact in s, T scores without unit.
 * @param fastContact Longest contact of the fast cycle, in s.
 * @param language Language, no unit.
 * @returns The reading, no unit.
 * @see Young (1995) for the fast contact.
 */
export function readReactiveStrength(result: ReactiveStrength, fastContact: number = 0.25, language?: Language): Reading {
  const say = sayer(language);
  const { rsi, unit, height, contactTime, squad } = result;
  const long = contactTime >= fastContact;
  const low = squad !== undefined && squad.heightTScore < LOW_T_SCORE;
  const [key, verdict] =
    squad === undefined ? (long ? ["longOnly", "longContact"] : ["fast", "fast"]) : long ? (low ? ["both", "both"] : ["long", "longContact"]) : low ? ["low", "lowJump"] : ["neither", "neither"];
  const parts = say("rsi.components", { height: shown(height), contact: contactTime, rsi: shown(rsi), unit });
  return reading(say(`verdict.${verdict}`), [
    ["components", squad === undefined ? parts : `${parts} ${say("rsi.squad", { height: squad.heightTScore, index: squad.indexTScore, n: squad.n })}`],
    ["reading", say(`rsi.${key}`, { limit: fastContact }) + (squad === undefined ? ` ${say("rsi.noSquad")}` : "")],
    ["next", say("rsi.next")],
  ]);
}

/** A difference between sides with everything its reading needs. */
export interface SideDifference {
  readonly verdict: AsymmetryVerdict;
  /** Name of the formula of the percentage. */
  readonly formula: string;
  /** Signed percentage by the formula, positive when left is higher. */
  readonly percentage: number;
  /** Side over the last sessions, this one included; absent where there is only this session. */
  readonly history?: SideHistory;
  /** Answer of another rule than the interval; it then decides, and its rate of error is said. */
  readonly rule?: SideRuleAnswer;
}

/**
 * Reading of a difference between left and right: real or within noise, steady or not.
 *
 * @param difference Verdict, percentage and side over sessions, in %.
 * @param quantity Name and unit of the sides.
 * @param language Language, no unit.
 * @returns The reading, no unit.
 * @see Bishop et al. (2018); Afonso et al. (2022); a steady side of three sessions is common practice.
 */
export function readAsymmetry(difference: SideDifference, quantity: Printed, language?: Language): Reading {
  const say = sayer(language);
  const { verdict, formula, percentage, history, rule } = difference;
  const real = rule?.real ?? verdict.real;
  const steady = history !== undefined && history.side === verdict.side && history.inARow >= STEADY_SESSIONS;
  const sessions =
    history === undefined || history.sessions < 2
      ? say("asymmetry.oneSession")
      : say(steady ? "asymmetry.steady" : "asymmetry.notSteady", { inARow: history.inARow, sameSide: history.sameSide, sessions: history.sessions });
  const word = !real ? "noise" : steady ? "followUp" : "real";
  return reading(say(`verdict.${word}`), [
    [
      "components",
      say("asymmetry.components", {
        left: withUnit(verdict.leftMean, quantity.unit),
        right: withUnit(verdict.rightMean, quantity.unit),
        leftCount: verdict.leftCount,
        rightCount: verdict.rightCount,
      }),
    ],
    [
      "number",
      say("asymmetry.number", {
        formula,
        percentage: signed(percentage, 1),
        side: say({ left: "asymmetry.leftHigher", right: "asymmetry.rightHigher", neither: "asymmetry.equal" }[verdict.side]),
        ratio: signed(verdict.logRatio, 1),
        level: 100 * verdict.level,
        low: signed(verdict.low, 1),
        high: signed(verdict.high, 1),
      }),
    ],
    ["reading", real ? `${say("asymmetry.real")} ${sessions}` : say("asymmetry.noise")],
    ["next", say("asymmetry.next")],
    ...(rule === undefined || rule.rule === "interval"
      ? []
      : ([["caution", say(rule.rule === "rank test" ? "asymmetry.rankTest" : "asymmetry.largerVariation", { rate: rule.falsePositivePercent, trials: rule.trials })]] as Part[])),
  ]);
}

/** A change with what it is read against. */
export interface ReadChange {
  readonly before: number;
  readonly after: number;
  readonly change: IndividualChange;
  /** Smallest worthwhile change, in the unit of the quantity; absent: read against zero only. */
  readonly smallestWorthwhile?: number;
  /** Show the probabilities too. @default false */
  readonly probabilities?: boolean;
}

/**
 * Reading of the change of one person against no change and the smallest worthwhile change.
 *
 * @param result Values, interval and smallest worthwhile change, in the unit of the quantity.
 * @param quantity Name, unit and better direction.
 * @param language Language, no unit.
 * @returns The reading, no unit.
 * @see Hopkins (2000); Swinton et al. (2018); Sainani (2018), from memory, on probabilities.
 */
export function readChange(result: ReadChange, quantity: Printed, language?: Language): Reading {
  const say = sayer(language);
  const { change, smallestWorthwhile: swc } = result;
  const { key, word } = changeCase(change, swc);
  const direction = word === "rise" || word === "fall" ? (word === "rise") === (quantity.better === "higher") : undefined;
  const judged =
    direction === undefined || quantity.better === undefined || quantity.better === "neither" ? "" : ` ${say(direction ? "change.better" : "change.worse")}`;
  const decimals = decimalsOf(Math.max(Math.abs(change.low), Math.abs(change.high)));
  const parts: Part[] = [
    ["components", say("change.components", { quantity: quantity.name, before: withUnit(result.before, quantity.unit), after: withUnit(result.after, quantity.unit) })],
    [
      "number",
      say("change.number", {
        change: signedWithUnit(change.change, decimals, quantity.unit),
        level: 100 * change.level,
        low: signed(change.low, decimals),
        high: signedWithUnit(change.high, decimals, quantity.unit),
      }),
    ],
    ["reading", say(`change.${key}`, { swc: swc === undefined ? undefined : withUnit(swc, quantity.unit) }) + judged],
    ["next", say("change.next")],
  ];
  const { probabilities } = change;
  if (result.probabilities && probabilities !== undefined) {
    const most = Math.max(probabilities.up, probabilities.down);
    parts.push(["caution", say("change.probability", { word: say(`change.${likelihood(most)}`), ...probabilities })]);
  }
  return reading(say(`verdict.${word}`), parts);
}

/**
 * Reading of a new session against the band of the person's baseline.
 *
 * @param value New session value, in the unit of the quantity.
 * @param band Baseline band, in the unit of the quantity.
 * @param quantity Name and unit.
 * @param language Language, no unit.
 * @returns The reading, no unit.
 * @see Hopkins (2000); eight sessions for a reliable own spread are common practice.
 */
export function readBaseline(value: number, band: BaselineBand, quantity: Printed, language?: Language): Reading {
  const say = sayer(language);
  const place = value > band.high ? "above" : value < band.low ? "below" : "inside";
  const few = band.method === "own" && band.n < ENOUGH_SESSIONS;
  return reading(say(`verdict.${place}`), [
    ["components", say("baseline.components", { quantity: quantity.name, value: withUnit(value, quantity.unit), mean: withUnit(band.mean, quantity.unit), n: band.n })],
    ["number", say("baseline.number", { level: 100 * band.level, low: shown(band.low), high: withUnit(band.high, quantity.unit), method: say(`baseline.${band.method}`) })],
    ["reading", `${say(`baseline.${place}`)} ${say("baseline.chance", { oneIn: 1 / (1 - band.level) })}`],
    ["next", say("baseline.next")],
    ...(few ? ([["caution", say("baseline.few", { n: band.n })]] as Part[]) : []),
  ]);
}

/**
 * Reading of a typical error against the smallest worthwhile and the minimal detectable change.
 *
 * @param numbers Typical error, smallest worthwhile change and minimal detectable change of one person, in the unit of the quantity.
 * @param quantity Name and unit.
 * @param language Language, no unit.
 * @returns The reading, no unit.
 * @see Hopkins (2000).
 */
export function readReliability(
  numbers: { readonly typicalError: number; readonly smallestWorthwhile: number; readonly minimalDetectable: number },
  quantity: Printed,
  language?: Language,
): Reading {
  const say = sayer(language);
  const { typicalError, smallestWorthwhile, minimalDetectable } = numbers;
  const mdc = withUnit(minimalDetectable, quantity.unit);
  const key = minimalDetectable <= smallestWorthwhile ? "person" : typicalError < smallestWorthwhile ? "groups" : "noisy";
  return reading(say(`verdict.${key}`), [
    ["components", say("reliability.components", { error: withUnit(typicalError, quantity.unit), swc: withUnit(smallestWorthwhile, quantity.unit), mdc })],
    ["reading", say(`reliability.${key}`, { mdc })],
    ["next", say("reliability.next")],
  ]);
}

/**
 * Reading of reactive strength over drop heights.
 *
 * @param profile Profile: heights in m, contact times in s, index in its unit.
 * @param fastContact Limit of the fast contact that made the profile, in s.
 * @param language Language, no unit.
 * @param units Units that are printed, each over that of SI; SI where they are left out.
 * @returns The reading, no unit.
 * @see Keiner et al. (2024); Prieske et al. (2019).
 */
export function readDropProfile(profile: DropHeightProfile, fastContact: number = 0.25, language?: Language, units: ReadingUnits = SI): Reading {
  const say = sayer(language);
  const { m, s } = units;
  const { points, best, decided, alike, fallsBy } = profile;
  const row = (point: ProfilePoint): string =>
    say("drop.point", {
      height: inUnit(point.nominalHeight, m, 2),
      measured: point.measuredHeight === undefined ? undefined : inUnit(point.measuredHeight, m, 2),
      m: m.unit,
      rsi: shown(point.rsi),
      contact: inUnit(point.contactTime, s, 3),
      s: s.unit,
      jump: point.height === undefined ? undefined : shown(point.height * m.factor),
      trials: trials(say, point.count),
    });
  const heights = (of: readonly number[]): string => of.map((index) => inUnit(points[index].nominalHeight, m, 2)).join(", ");
  let [key, word] = ["none", "none"];
  if (best !== undefined) {
    if (points.filter((point) => point.fast).length === 1) [key, word] = ["only", "best"];
    else if (decided === undefined) [key, word] = ["noError", "undecided"];
    else [key, word] = decided ? ["best", "best"] : ["undecided", "undecided"];
  }
  let text = say(`drop.${key}`, {
    best: best === undefined ? undefined : heights([best]),
    others: heights(alike.filter((index) => index !== best)),
    m: m.unit,
    limit: inUnit(fastContact, s, 2),
    s: s.unit,
  });
  if (fallsBy !== undefined && decided) {
    const why = { "longer contact": "longerContact", "lower jump": "lowerJump", both: "bothFall" }[fallsBy];
    text += ` ${say("drop.falls", { why: say(`drop.${why}`) })}`;
  }
  return reading(say(`verdict.${word}`), [
    ["components", `${points.map(row).join("; ")}.`],
    ["reading", text],
    ["next", say("drop.next")],
    ["caution", say("drop.caution")],
  ]);
}

/**
 * Reading of a force-velocity line: numbers and points, and no verdict.
 *
 * @param profile Line with its points: N/kg, m/s, W/kg.
 * @param language Language, no unit.
 * @param units Units that are printed, each over that of SI; SI where they are left out.
 * @returns The reading, no unit.
 * @see Lindberg et al. (2021); Samozino et al. (2022).
 */
export function readLoadProfile(profile: LoadProfile, language?: Language, units: ReadingUnits = SI): Reading {
  const say = sayer(language);
  const { m, kg } = units;
  const { points, maximalForce: force, maximalVelocity: velocity, maximalPower: power, slope, line, fewLoads } = profile;
  const velocityLimits =
    velocity.low === undefined || velocity.high === undefined
      ? say("load.velocityNoLimits")
      : say("load.velocityLimits", { low: shown(velocity.low), high: shown(velocity.high) });
  const rows = points.map((point) =>
    say("load.point", { load: kg.factor === 1 ? String(point.load) : shown(point.load * kg.factor), kg: kg.unit, height: shown(point.height * m.factor), m: m.unit, force: shown(point.force), velocity: shown(point.velocity) }),
  );
  return reading(say("verdict.shown"), [
    ["components", `${rows.join("; ")}.`],
    [
      "number",
      say("load.number", {
        force: shown(force.value),
        forceLow: shown(force.low),
        forceHigh: shown(force.high),
        velocity: shown(velocity.value),
        velocityLimits,
        power: shown(power.value),
        powerLow: shown(power.low),
        powerHigh: shown(power.high),
        slope: shown(slope.value),
        slopeLow: shown(slope.low),
        slopeHigh: shown(slope.high),
        level: 100 * line.level,
      }),
    ],
    ["reading", say("load.reading")],
    ["next", say("load.next")],
    ...(fewLoads ? ([["caution", say("load.few")]] as Part[]) : []),
  ]);
}

type Part = readonly [ReadingRole, string];
type Say = (key: string, values?: Values) => string;

function sayer(language: Language | undefined): Say {
  const { readings: texts, decimalMark } = textsOf(language);
  return (key, values = {}) => fillTemplate(texts[key], values, decimalMark);
}

function reading(verdictWord: string, parts: readonly Part[]): Reading {
  return { text: parts.map(([, text]) => text).join(" "), parts: parts.map(([role, text]) => ({ role, text })), verdictWord };
}

/** Where limits lie against two cuts; undecided where they reach across one, or are missing. */
function placed(say: Say, combined: CombinedTests, { low, high }: Cuts, prefix: string): { place: string; text: string } {
  const [lowText, highText] = [cut(low, combined), cut(high, combined)];
  const cuts = say("and", { first: lowText, second: highText });
  if (combined.low === undefined || combined.high === undefined) return { place: "undecided", text: say("undecidedNoLimits", { cuts }) };
  const holds = (value: number): boolean => combined.low! <= value && value <= combined.high!;
  if (holds(low) && holds(high)) return { place: "undecided", text: say("undecided", { cuts }) };
  if (holds(low) || holds(high)) return { place: "undecided", text: say("undecided", { cuts: holds(low) ? lowText : highText }) };
  const place = combined.high < low ? "below" : combined.low > high ? "above" : "between";
  return { place, text: say(`${prefix}.${place}`, { low: lowText, high: highText }) };
}

/** A cut as the value it is read against is printed. */
function cut(value: number, { unit }: CombinedTests): string {
  return unit === "%" ? `${fixed(value, 1)} %` : fixed(value, 2);
}

/** Cuts of a ratio, as percentages where the combination is one. */
function cutsFor({ unit }: CombinedTests, { low, high }: Cuts): Cuts {
  return unit === "%" ? { low: 100 * (low - 1), high: 100 * (high - 1) } : { low, high };
}

function aroundZero(
  combined: CombinedTests,
  quantity: Printed,
  names: readonly string[],
  cases: { readonly above: string; readonly below: string; readonly prefix: string },
  language: Language | undefined,
): Reading {
  const say = sayer(language);
  const { low, high } = combined;
  const word = low === undefined || high === undefined || (low <= 0 && high >= 0) ? "undecided" : low > 0 ? cases.above : cases.below;
  const undecided = say(low === undefined ? "undecidedNoLimits" : "undecided", { cuts: "0 %" });
  return reading(say(`verdict.${word}`), [
    ["components", components(say, combined, names, quantity.unit)],
    ["number", ratioSentence(say, combined, language)],
    ["reading", word === "undecided" ? undecided : say(`${cases.prefix}.${word}`)],
    ["next", say(`${cases.prefix}.next`)],
    ...fewTrials(say, combined),
  ]);
}

function components(say: Say, combined: CombinedTests, names: readonly string[], unit: string): string {
  const texts = combined.components.map(({ value, u, count }, index) => {
    const decimals = Math.max(decimalsOf(value), u === undefined || u === 0 ? 0 : -Math.floor(Math.log10(u)));
    return say("component", {
      name: say(`name.${names[index]}`),
      value: fixed(value, decimals),
      u: u === undefined ? undefined : fixed(u, decimals),
      unit,
      trials: count === undefined ? say("trialsUnknown") : trials(say, count),
    });
  });
  return `${texts.join("; ")}.`;
}

function trials(say: Say, count: number): string {
  return count === 1 ? say("singleTrial") : say("trials", { count });
}

function fewTrials(say: Say, combined: CombinedTests): Part[] {
  return combined.components.some((component) => component.count === 1) ? [["caution", say("fewTrials")]] : [];
}

function ratioSentence(say: Say, combined: CombinedTests, language: Language | undefined): string {
  const name = say(`name.${combined.kind}`);
  const { value, unit, low, high, interval } = combined;
  const decimals = unit === "%" ? 1 : 3;
  if (low === undefined || high === undefined || interval === undefined) {
    return say("noLimits", { name, value: fixed(value, decimals), unit, why: inLanguage(combined.noLimits ?? "", language) });
  }
  return say("limits", { name, value: fixed(value, decimals), unit, level: 100 * interval.level, low: fixed(low, decimals), high: fixed(high, decimals) });
}

function changeCase({ low, high }: IndividualChange, swc: number | undefined): { key: string; word: string } {
  if (swc !== undefined) {
    if (low > swc) return { key: "riseWorthwhile", word: "rise" };
    if (high < -swc) return { key: "fallWorthwhile", word: "fall" };
    if (low > -swc && high < swc) return { key: "trivial", word: "trivial" };
    if (low > 0) return { key: "riseSize", word: "rise" };
    if (high < 0) return { key: "fallSize", word: "fall" };
    return { key: "undecided", word: "undecided" };
  }
  if (low > 0) return { key: "rise", word: "rise" };
  if (high < 0) return { key: "fall", word: "fall" };
  return { key: "undecided", word: "undecided" };
}

/** Words for a probability (Hopkins, from memory). */
function likelihood(probability: number): string {
  if (probability > 0.995) return "mostLikely";
  if (probability > 0.95) return "veryLikely";
  if (probability > 0.75) return "likely";
  return probability >= 0.25 ? "possibly" : "unlikely";
}

/** Decimals that show three or four significant digits. */
function decimalsOf(value: number): number {
  const size = Math.abs(value);
  return size >= 100 ? 0 : size >= 10 ? 1 : size >= 1 ? 2 : 3;
}

function fixed(value: number, decimals: number): string {
  const text = value.toFixed(decimals);
  return /^-0(\.0*)?$/.test(text) ? text.slice(1) : text;
}

/** About three or four significant digits, without an exponent. */
function shown(value: number): string {
  return value === 0 ? "0" : fixed(value, decimalsOf(value));
}

/** With these decimals in SI, else with the digits that say it. */
function inUnit(value: number, { factor }: ReadingUnit, decimals: number): string {
  return factor === 1 ? value.toFixed(decimals) : shown(value * factor);
}

function withUnit(value: number, unit: string): string {
  return unit === "" ? shown(value) : `${shown(value)} ${unit}`;
}

/** With a plus where above zero. */
function signed(value: number, decimals: number): string {
  const text = fixed(value, decimals);
  return value > 0 && Number(text) !== 0 ? `+${text}` : text;
}

/** With a plus where above zero, and the unit. */
function signedWithUnit(value: number, decimals: number, unit: string): string {
  return unit === "" ? signed(value, decimals) : `${signed(value, decimals)} ${unit}`;
}
