export const TESTS = ["CMJ", "SJ", "DJ", "RH", "IMTP"] as const;
/** CMJ countermovement jump, SJ squat jump, DJ drop jump, RH repeated hops, IMTP isometric mid-thigh pull. */
export type Test = (typeof TESTS)[number];

/** What the athlete was asked to do. Fields that were not stated are absent. */
export interface Protocol {
  readonly test: Test;
  /** Hands on the hips, or a free arm swing. */
  readonly arms?: "hips" | "swing";
  readonly limb?: "both" | "left" | "right";
  /** Nominal drop height, m (drop jump only). */
  readonly dropHeight?: number;
  /** External load, kg. */
  readonly load?: number;
}
