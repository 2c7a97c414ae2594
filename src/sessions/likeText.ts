import { formatProtocol } from "../protocols/formatProtocol.ts";
import type { Protocol } from "../protocols/Protocol.ts";
import { TIMES_MARK } from "../trace/packFormat.ts";

/** What measured a trial: force plates, or the times of a mat or a video. */
export const INSTRUMENTS = ["plate", "mat", "video"] as const;
export type Instrument = (typeof INSTRUMENTS)[number];

/** Before the instrument in a text of what may be compared. */
const BY = " by=";

/**
 * Text that is equal for trials that may be averaged and compared: the canonical protocol, and the instrument where it is no force plate.
 *
 * A limb that was not stated is both and a load that was not stated is none, so neither is written. Heights from
 * the times of a mat or a video hold the posture of the landing and are not those of a plate: they never share a text.
 *
 * @param protocol Drop height in m, load in kg.
 * @param instrument What measured it, no unit.
 * @returns Text such as `CMJ arms=hips` or `CMJ arms=hips by=mat`, no unit.
 * @see common practice; the difference between height methods: Baumgart et al. (2017).
 */
export function likeText({ limb, load, ...rest }: Protocol, instrument: Instrument = "plate"): string {
  const protocol = formatProtocol({ ...rest, ...(limb === undefined || limb === "both" ? {} : { limb }), ...(load === undefined || load === 0 ? {} : { load }) });
  return instrument === "plate" ? protocol : `${protocol}${BY}${instrument}`;
}

/** Protocol text and instrument of such a text. */
export function partsOfLikeText(text: string): { readonly protocol: string; readonly instrument: Instrument } {
  const at = text.lastIndexOf(BY);
  const instrument = INSTRUMENTS.find((each) => each === text.slice(at + BY.length));
  return at < 0 || instrument === undefined ? { protocol: text, instrument: "plate" } : { protocol: text.slice(0, at), instrument };
}

/** What measured a trial, from the packed text of its trace. */
export function instrumentOf(packed: string): Instrument {
  if (!packed.startsWith(`${TIMES_MARK} `)) return "plate";
  return /(?:^| )source=video(?: |$)/.test(packed) ? "video" : "mat";
}

/**
 * Why results of these instruments must not be combined, or nothing where they may.
 *
 * @param instruments What measured each part, no unit.
 * @returns Reason in a few words, or undefined.
 */
export function instrumentReason(instruments: readonly Instrument[]): string | undefined {
  const used = INSTRUMENTS.filter((each) => instruments.includes(each));
  return used.length < 2 ? undefined : `the instruments differ (${used.map((each) => WORDS[each]).join(" and ")}), and their results are not the same quantity`;
}

const WORDS: Readonly<Record<Instrument, string>> = { plate: "force plate", mat: "mat", video: "video" };
