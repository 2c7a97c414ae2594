/** A typographic minus and a fixed look in every place the pane prints numbers; the decimal mark follows `locale`. */
export function formatNumber(value: number, decimals: number, locale?: string): string {
  if (!Number.isFinite(value)) return "–";
  const rounded = Math.abs(value) < 0.5 * 10 ** -decimals ? 0 : value;
  return numberFormat(decimals, Math.abs(rounded) >= 10000, locale).format(rounded).replace("-", "\u2212");
}

/** Making a format costs as much as a hundred uses of it. */
const NUMBER_FORMATS = new Map<string, Intl.NumberFormat>();

function numberFormat(decimals: number, useGrouping: boolean, locale: string | undefined): Intl.NumberFormat {
  const key = `${locale} ${decimals} ${useGrouping}`;
  let format = NUMBER_FORMATS.get(key);
  if (format === undefined) {
    format = new Intl.NumberFormat(locale, { minimumFractionDigits: decimals, maximumFractionDigits: decimals, useGrouping });
    NUMBER_FORMATS.set(key, format);
  }
  return format;
}

/**
 * Decimals with which a value is printed: from its standard uncertainty (two significant digits of it, JCGM 100 7.2.6), else by its unit.
 *
 * @param u Standard uncertainty in the unit of the value.
 */
export function decimalsFor(value: number, unit: string, u?: number): number {
  if (u !== undefined && u > 0 && Number.isFinite(u)) {
    const exponent = Math.floor(Math.log10(u));
    return Math.min(Math.max(1 - exponent, 0), 6);
  }
  // A count.
  if (unit === "" && Number.isInteger(value)) return 0;
  const usual = USUAL_DECIMALS[unit];
  if (usual !== undefined) return usual;
  const size = Math.abs(value);
  return size >= 1000 ? 0 : size >= 100 ? 1 : size >= 10 ? 2 : 3;
}

/** Value with its unit, ready to read: `0.345 m`. */
export function formatValue(value: number, unit: string, u?: number, locale?: string): string {
  const text = formatNumber(value, decimalsFor(value, unit, u), locale);
  return unit === "" ? text : `${text}\u00a0${prettyUnit(unit)}`;
}

/** A number of a working: four figures, so that a reader can follow the calculation. */
export function formatWorking(value: number, unit: string, locale?: string): string {
  const exponent = value === 0 ? 0 : Math.floor(Math.log10(Math.abs(value)));
  const text = formatNumber(value, value === 0 ? 0 : Math.min(Math.max(3 - exponent, 0), 6), locale);
  return unit === "" ? text : `${text}\u00a0${prettyUnit(unit)}`;
}

/** A day in the way of the place: `2026-03-14` becomes 14 Mar 2026 or whatever is usual there; any other text stays. */
export function formatDate(date: string, locale?: string): string {
  const [, year, month, day] = /^(\d{4})-(\d{2})-(\d{2})$/.exec(date) ?? [];
  if (year === undefined) return date;
  let format = DATE_FORMATS.get(locale);
  if (format === undefined) {
    format = new Intl.DateTimeFormat(locale, { dateStyle: "medium", timeZone: "UTC" });
    DATE_FORMATS.set(locale, format);
  }
  const at = new Date(Date.UTC(Number(year), Number(month) - 1, Number(day)));
  return at.getUTCMonth() === Number(month) - 1 ? format.format(at) : date;
}

const DATE_FORMATS = new Map<string | undefined, Intl.DateTimeFormat>();

/** Day and time of an instant in the way of the place. */
export function formatMoment(instant: string, locale?: string): string {
  return new Date(instant).toLocaleString(locale, { dateStyle: "medium", timeStyle: "short" });
}

/** A number on an axis: as few figures as say it, six at most. */
export function formatTick(value: number, locale?: string): string {
  const [, decimals = ""] = /\.(\d+)$/.exec(String(Number(value.toPrecision(6)))) ?? [];
  return formatNumber(value, decimals.length, locale);
}

/** Units with raised figures and a middle dot, as SI prints them. */
export function prettyUnit(unit: string): string {
  return unit.replace(/\^?2\b/g, "²").replace(/ s\b/g, "\u00b7s").replace(/\^-1/g, "⁻¹");
}

/** Common practice of the trade: millimetres for heights, milliseconds for times, whole newtons and watts. */
const USUAL_DECIMALS: Readonly<Record<string, number>> = {
  m: 3, cm: 1, mm: 0, in: 2, ft: 3, s: 3, ms: 0, "m/s": 3, "cm/s": 1, "km/h": 2, "ft/s": 2, N: 0, kN: 3, kgf: 1, lbf: 1, "N s": 1, "kN s": 3, "N/s": 0, "kN/s": 2, "N/ms": 2, W: 0, kW: 3, "N/m": 0, "kN/m": 2, kg: 2, lb: 1, g: 0,
  "%": 1, "N/kg": 2, "W/kg": 2, "N s/kg": 3, "N/s/kg": 1, "N/m/kg": 1, "kN/m/kg": 3, Hz: 0,
};

/** Decimals of a quantity whose value is not known yet, by its unit. */
export function usualDecimals(unit: string): number {
  return USUAL_DECIMALS[unit] ?? 3;
}
