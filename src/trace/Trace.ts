/** What a plate carries: the sum of everything, one foot, or the box that a drop starts from. */
export const PLATE_ROLES = ["total", "left", "right", "box"] as const;
export type PlateRole = (typeof PLATE_ROLES)[number];

/** Vertical ground reaction force of one plate. */
export interface Plate {
  readonly role: PlateRole;
  /** Force of the plate on the person, N, positive upward. */
  readonly force: Float64Array;
}

/**
 * Vertical ground reaction force at a constant rate: one plate (`total`), or `left` and `right`,
 * or either of them with the `box` plate of a drop jump. All plates have the same length.
 */
export interface Trace {
  /** Sampling rate, Hz. */
  readonly rate: number;
  readonly plates: readonly Plate[];
  /** Time of sample zero in the recording it was cut from, s; zero where unknown. */
  readonly start: number;
  /** Smallest step of the force values, N; zero where unknown or continuous. */
  readonly step: number;
  /** Step to which packing rounded the values, N; zero where the values are the source's own. */
  readonly rounding: number;
}

/** Times from a mat or a video in place of a trace. */
export interface TimesRecord {
  /** Flight time, s. */
  readonly flight?: number;
  /** Ground contact time, s. */
  readonly contact?: number;
  readonly source: "mat" | "video";
  /** Frames per second of the video, where the times were read from frames. */
  readonly framesPerSecond?: number;
}
