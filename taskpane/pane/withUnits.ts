import { resolveMetricName } from "../../src/catalogue/resolveMetricName.ts";

/** The unit a person wants for each kind of quantity; SI where blank. */
export interface UnitChoice {
  /** For heights and lengths, SI m. */
  readonly m: "m" | "cm" | "in";
  /** For times, SI s. */
  readonly s: "s" | "ms";
  /** For masses, SI kg. */
  readonly kg: "kg" | "lb";
}

/** The units that the head of Results shows now; SI for what it does not show. Where it shows several of one kind, the first. */
export function unitsOf(names: readonly string[]): UnitChoice {
  const found: { -readonly [K in keyof UnitChoice]?: UnitChoice[K] } = {};
  for (const name of names) {
    try {
      const { base, unit, relative, asymmetry } = resolveMetricName(name);
      if (asymmetry || relative) continue;
      if (base.unit === "m" && (unit === "m" || unit === "cm" || unit === "in")) found.m ??= unit;
      if (base.unit === "s" && (unit === "s" || unit === "ms")) found.s ??= unit;
      if (base.unit === "kg" && (unit === "kg" || unit === "lb")) found.kg ??= unit;
    } catch {
      // A text, or a name that is none.
    }
  }
  return { m: "m", s: "s", kg: "kg", ...found };
}

/**
 * Metric names with the chosen units as suffixes: `jumpHeight` becomes `jumpHeight cm`. The text says the unit, so no cell changes its meaning silently.
 *
 * @param names Names as they stand in the head of Results; texts such as `verdict`, and names that are none, stay as they are.
 */
export function withUnits(names: readonly string[], choice: UnitChoice): readonly string[] {
  return names.map((name) => {
    try {
      const { id, base, relative, asymmetry } = resolveMetricName(name);
      const si = asymmetry || relative ? "" : base.unit;
      const unit = si === "m" || si === "s" || si === "kg" ? choice[si] : undefined;
      return unit === undefined ? name : unit === si ? id : `${id} ${unit}`;
    } catch {
      return name;
    }
  });
}
