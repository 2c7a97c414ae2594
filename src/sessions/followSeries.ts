import { InputError } from "../errors.ts";
import { requireAllFinite } from "../guards.ts";
import { likeProtocols } from "../protocols/likeProtocols.ts";
import type { Protocol } from "../protocols/Protocol.ts";
import { baselineBand } from "../statistics/baselineBand.ts";
import type { BaselineBand, BaselineOptions } from "../statistics/baselineBand.ts";
import { exponentiallyWeightedMean } from "../statistics/exponentiallyWeightedMean.ts";

/** One session in a person's history of one metric. */
export interface FollowSession {
  /** Date as the sheet shows it. */
  readonly date: string;
  readonly value: number;
  readonly protocol: Protocol;
  /** True where a trial behind it asks for a look: to be drawn hollow. */
  readonly doubtful?: boolean;
}

/** A session as a chart over time draws it. */
export interface FollowPoint extends FollowSession {
  /** Why this session is not comparable with the one before, where its protocol changed. */
  readonly protocolChange?: string;
  /** Band expected for it from the earlier sessions of like protocol; absent where there are too few. */
  readonly band?: BaselineBand;
  /** Where it lies against the band. */
  readonly place?: "inside" | "above" | "below";
  /** Exponentially weighted mean of the earlier sessions of like protocol; absent for the first of them. */
  readonly weighted?: number;
}

/** How the band and the weighted mean are made. */
export interface FollowOptions extends BaselineOptions {
  /** Weight of the latest session in the weighted mean, no unit. @default 0.3 */
  readonly weight?: number;
}

/**
 * A person's history of one metric, each session against the band from the earlier sessions of like protocol.
 *
 * No session counts in its own baseline, and sessions of unlike protocols never count in
 * each other's. A return to an earlier protocol takes up its earlier sessions again.
 *
 * @param sessions Sessions, oldest first, in the unit of the metric.
 * @param options Typical error (unit of the metric), degrees of freedom, level, sessions and weight (no unit).
 * @returns The sessions with band, place and weighted mean, in the unit of the metric.
 * @throws {InputError} `not-a-number` if a value is not finite.
 * @throws {InputError} `out-of-range` if an option is out of its limits.
 * @see Hopkins (2000); Roberts (1959), from memory, for the weighted mean.
 */
export function followSeries(sessions: readonly FollowSession[], options: FollowOptions = {}): readonly FollowPoint[] {
  requireAllFinite("history", sessions.map((session) => session.value));
  const { weight, ...bandOptions } = options;
  return sessions.map((session, at) => {
    const earlier = sessions.slice(0, at).filter((other) => likeProtocols(other.protocol, session.protocol) === undefined);
    const values = earlier.map((other) => other.value);
    const band = bandOf(values, bandOptions);
    return {
      ...session,
      protocolChange: at === 0 ? undefined : likeProtocols(sessions[at - 1].protocol, session.protocol),
      band,
      place: band === undefined ? undefined : session.value > band.high ? "above" : session.value < band.low ? "below" : "inside",
      weighted: values.length === 0 ? undefined : exponentiallyWeightedMean(values, weight),
    };
  });
}

function bandOf(values: readonly number[], options: BaselineOptions): BaselineBand | undefined {
  try {
    return baselineBand(values, options);
  } catch (error) {
    if (error instanceof InputError && error.code === "not-available") return undefined;
    throw error;
  }
}
