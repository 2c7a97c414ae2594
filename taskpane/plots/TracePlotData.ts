/** What a panel shows; each has a panel of its own, so that every axis carries one unit. */
export type Quantity = "force" | "velocity" | "displacement" | "power";

export interface PlotSeries {
  readonly quantity: Quantity;
  /** `other` is a line of another trial laid over this one. */
  readonly side: "total" | "left" | "right" | "other";
  readonly label: string;
  /** As long as `time`; NaN where there is nothing to draw. */
  readonly values: Float64Array;
  /** Place among the other trials, from zero; chooses the dash pattern. */
  readonly pattern?: number;
}

export interface PlotEvent {
  readonly id: string;
  readonly label: string;
  /** s, on the axis of `time`. */
  readonly time: number;
  /** True where a person moved it. */
  readonly byHand: boolean;
}

export interface PlotPhase {
  readonly label: string;
  readonly start: number;
  readonly end: number;
}

/** Everything the plot of one trial needs, in columns. */
export interface TracePlotData {
  /** s from sample zero, rising. */
  readonly time: Float64Array;
  readonly series: readonly PlotSeries[];
  readonly events: readonly PlotEvent[];
  readonly phases: readonly PlotPhase[];
  /** Sentences of what is doubtful, shown on the plot's face. */
  readonly doubts: readonly string[];
}
