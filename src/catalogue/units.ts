/** Units in which a value of a given SI unit may be printed: SI value times factor gives the printed value. */
const FORMS: Readonly<Record<string, Readonly<Record<string, number>>>> = {
  // 1 in = 0.0254 m and 1 ft = 0.3048 m, exact by definition.
  m: { m: 1, cm: 100, mm: 1000, in: 1 / 0.0254, ft: 1 / 0.3048 },
  s: { s: 1, ms: 1000 },
  "m/s": { "m/s": 1, "cm/s": 100, "km/h": 3.6, "ft/s": 1 / 0.3048 },
  // 1 kgf = 9.80665 N exactly; 1 lbf = 0.45359237 kg x 9.80665 m/s^2 exactly.
  N: { N: 1, kN: 1e-3, kgf: 1 / 9.80665, lbf: 1 / (0.45359237 * 9.80665) },
  // 1 lb = 0.45359237 kg, exact by definition.
  kg: { kg: 1, lb: 1 / 0.45359237, g: 1000 },
  W: { W: 1, kW: 1e-3 },
  "N s": { "N s": 1, "kN s": 1e-3 },
  "N/s": { "N/s": 1, "kN/s": 1e-3, "N/ms": 1e-3 },
  "N/m": { "N/m": 1, "kN/m": 1e-3 },
  "N/kg": { "N/kg": 1 },
  "W/kg": { "W/kg": 1 },
  "N s/kg": { "N s/kg": 1, "m/s": 1 },
  "N/s/kg": { "N/s/kg": 1 },
  "N/m/kg": { "N/m/kg": 1, "kN/m/kg": 1e-3 },
  "%": { "%": 1 },
  "": { "%": 100 },
};

const compact = (unit: string): string => unit.toLowerCase().replace(/[\s·.*_()[\]]/g, "").replace(/([a-z])-1$/, "/$1");

/**
 * Another unit for a quantity: printed value = SI value x factor.
 *
 * @param si SI unit as the catalogue states it, no unit.
 * @param wanted Unit as a person writes it, any case, with or without spaces or brackets, no unit.
 * @returns The unit as printed and the factor (unit over SI unit), or `undefined` where the quantity has no such unit.
 */
export function unitForm(si: string, wanted: string): { readonly unit: string; readonly factor: number } | undefined {
  const sought = compact(wanted);
  for (const [unit, factor] of Object.entries(FORMS[si] ?? {})) {
    if (compact(unit) === sought) return { unit, factor };
  }
  return undefined;
}

/**
 * The units in which a quantity may be printed.
 *
 * @param si SI unit as the catalogue states it, no unit.
 * @returns Names of units, no unit.
 */
export function unitsOf(si: string): readonly string[] {
  return Object.keys(FORMS[si] ?? {});
}

/** True where the text is a unit of any quantity: it tells a misspelt name from a wrong unit. */
export function isUnit(text: string): boolean {
  return Object.keys(FORMS).some((si) => unitForm(si, text) !== undefined);
}
