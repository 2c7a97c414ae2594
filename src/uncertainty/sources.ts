/**
 * Where the uncertainty of a result comes from (JCGM 100:2008). Each is one independent influence, so that two results
 * that share an influence are correlated through it.
 */
export const SOURCES = [
  "bodyWeight",
  "zero",
  "noise",
  "startVelocity",
  "onset",
  "takeoff",
  "landing",
  "touchdown",
  "posture",
  "gravity",
  "gain",
  "rounding",
  "dropHeight",
  "threshold",
  "sampling",
] as const;

export type Source = (typeof SOURCES)[number];

export const SOURCE_COUNT = SOURCES.length;

/** Place of a source in a row of contributions. */
export const BODY_WEIGHT = 0;
export const ZERO = 1;
export const NOISE = 2;
export const START_VELOCITY = 3;
export const ONSET = 4;
export const TAKEOFF = 5;
export const LANDING = 6;
export const TOUCHDOWN = 7;
export const POSTURE = 8;
export const GRAVITY = 9;
export const GAIN = 10;
export const ROUNDING = 11;
export const DROP_HEIGHT = 12;
export const THRESHOLD = 13;
export const SAMPLING = 14;
