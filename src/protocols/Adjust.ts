import type { EventName } from "./Analysis.ts";

/** This trial's own facts, and the events a person moved. */
export interface Adjust {
  /** Body weight given by hand, N. */
  readonly bodyWeight?: number;
  /** Body mass measured elsewhere, kg: checked against the plate (Q2), not used for the physics. */
  readonly mass?: number;
  /** Events moved by a person, s from sample zero. */
  readonly events: ReadonlyMap<EventName, number>;
}
