import { InputError } from "../errors.ts";
import { requireFinite } from "../guards.ts";
import { nearestNames, plainName } from "../names.ts";

export type Side = "left" | "right";

/** One published way to put the difference between sides into a number. */
export interface AsymmetryFormula {
  readonly id: string;
  readonly name: string;
  /** As the tool computes it; D the larger side (or the entered dominant one), N the other, L left, R right. */
  readonly formula: string;
  /** True for a percentage that is positive when left is higher; false for a share or ratio without a direction. */
  readonly signed: boolean;
  /** Id of the formula that gives the same number while D is the larger side; absent for a number of its own. */
  readonly sameAs?: string;
  /** Whether an entered dominant side changes the number. */
  readonly usesDominant: boolean;
  /** How the published sign differs, or what else to know. */
  readonly note?: string;
  readonly source: string;
  readonly compute: (left: number, right: number, dominant: Side) => number;
}

const larger = (left: number, right: number): number => Math.max(left, right);
const smaller = (left: number, right: number): number => Math.min(left, right);
const direction = (left: number, right: number): number => Math.sign(left - right);
const overTotal = (left: number, right: number): number => (100 * (left - right)) / (left + right);
const overMean = (left: number, right: number): number => (200 * (left - right)) / (left + right);
const overLarger = (left: number, right: number): number => (100 * (left - right)) / larger(left, right);
const others = "Bishop et al. (2016)";

/**
 * Every formula by name. Every signed percentage is positive when left is higher, whatever the published sign; both
 * sides must be above zero. Names and origins from memory, formulas in Bishop et al. (2016, 2018).
 */
export const ASYMMETRY_FORMULAS: readonly AsymmetryFormula[] = [
  {
    id: "symmetryIndex",
    name: "Symmetry index",
    formula: "100 (L - R) / (L + R)",
    signed: true,
    usesDominant: false,
    source: "Bishop et al. (2018)",
    compute: overTotal,
  },
  {
    id: "standardPercentageDifference",
    name: "Standard percentage difference",
    formula: "100 (L - R) / max(L, R)",
    signed: true,
    usesDominant: false,
    source: "Bishop et al. (2018)",
    compute: overLarger,
  },
  {
    id: "asymmetryIndex",
    name: "Asymmetry index",
    formula: "100 (L - R) / ((L + R) / 2)",
    signed: true,
    usesDominant: false,
    source: "Robinson, Herzog & Nigg (1987), from memory",
    compute: overMean,
  },
  {
    id: "referenceWeaker",
    name: "Percentage of the weaker side",
    formula: "100 (L - R) / min(L, R)",
    signed: true,
    usesDominant: false,
    source: others,
    compute: (left, right) => (100 * (left - right)) / smaller(left, right),
  },
  {
    id: "symmetryAngle",
    name: "Symmetry angle",
    formula: "100 (atan(L / R) - 45 deg) / 90 deg",
    signed: true,
    usesDominant: false,
    note: "Minus the published expression, so that left higher is positive",
    source: "Zifchock et al. (2008), form from memory",
    compute: (left, right) => (100 * (Math.atan(left / right) - Math.PI / 4)) / (Math.PI / 2),
  },
  {
    id: "logRatio",
    name: "Log ratio",
    formula: "100 ln(L / R)",
    signed: true,
    usesDominant: false,
    source: "common practice in statistics",
    compute: (left, right) => 100 * Math.log(left / right),
  },
  {
    id: "leftShare",
    name: "Left share",
    formula: "100 L / (L + R)",
    signed: false,
    usesDominant: false,
    note: "50 is equal",
    source: "common practice",
    compute: (left, right) => (100 * left) / (left + right),
  },
  {
    id: "limbSymmetryIndex1",
    name: "Limb symmetry index 1",
    formula: "100 N / D",
    signed: false,
    usesDominant: true,
    note: "100 is equal; may exceed 100 when a dominant side is entered and the other side is higher",
    source: others,
    compute: (left, right, dominant) => (100 * otherOf(left, right, dominant)) / dominantOf(left, right, dominant),
  },
  {
    id: "limbSymmetryIndex2",
    name: "Limb symmetry index 2",
    formula: "100 (L - R) / D",
    signed: true,
    sameAs: "standardPercentageDifference",
    usesDominant: true,
    source: others,
    compute: (left, right, dominant) => (100 * (left - right)) / dominantOf(left, right, dominant),
  },
  {
    id: "limbSymmetryIndex3",
    name: "Limb symmetry index 3",
    formula: "100 (L - R) / ((L + R) / 2)",
    signed: true,
    sameAs: "asymmetryIndex",
    usesDominant: false,
    note: "Minus the published expression, so that left higher is positive",
    source: others,
    compute: overMean,
  },
  {
    id: "bilateralStrengthAsymmetry",
    name: "Bilateral strength asymmetry",
    formula: "100 (L - R) / max(L, R)",
    signed: true,
    sameAs: "standardPercentageDifference",
    usesDominant: false,
    source: others,
    compute: overLarger,
  },
  {
    id: "bilateralAsymmetryIndex1",
    name: "Bilateral asymmetry index 1",
    formula: "100 (L - R) / (D + N)",
    signed: true,
    sameAs: "symmetryIndex",
    usesDominant: false,
    note: "An entered dominant side changes the published sign only, never the size",
    source: others,
    compute: overTotal,
  },
  {
    id: "bilateralAsymmetryIndex2",
    name: "Bilateral asymmetry index 2",
    formula: "200 (L - R) / (D + N)",
    signed: true,
    sameAs: "asymmetryIndex",
    usesDominant: false,
    note: "An entered dominant side changes the published sign only, never the size",
    source: others,
    compute: overMean,
  },
  {
    id: "normalisedSymmetryIndex",
    name: "Normalised symmetry index",
    formula: "100 (L - R) / (max(0, L, R) - min(0, L, R))",
    signed: true,
    sameAs: "standardPercentageDifference",
    usesDominant: false,
    note: "Minus the published expression, so that left higher is positive; with both sides above zero the denominator is the larger side",
    source: "Queen et al. (2020), from memory",
    compute: (left, right) =>
      (100 * (left - right)) / (Math.max(0, left, right) - Math.min(0, left, right)),
  },
];

/** Names in other spellings. */
const ALIASES: Readonly<Record<string, string>> = {
  total: "symmetryIndex",
  bilateral: "symmetryIndex",
  singleleg: "standardPercentageDifference",
  percentagedifference: "standardPercentageDifference",
  robinson: "asymmetryIndex",
  limbsymmetryindex: "limbSymmetryIndex1",
  lsi: "limbSymmetryIndex1",
  lsi1: "limbSymmetryIndex1",
  lsi2: "limbSymmetryIndex2",
  lsi3: "limbSymmetryIndex3",
  bai1: "bilateralAsymmetryIndex1",
  bai2: "bilateralAsymmetryIndex2",
  bsa: "bilateralStrengthAsymmetry",
  normalizedsymmetryindex: "normalisedSymmetryIndex",
  weaker: "referenceWeaker",
  share: "leftShare",
};

/** The formula of a name (any case, spaces or underscores); throws `unknown-name` with the nearest ones. */
export function asymmetryFormulaByName(name: string): AsymmetryFormula {
  const plain = plainName(name);
  const id = Object.hasOwn(ALIASES, plain) ? ALIASES[plain] : undefined;
  const found = ASYMMETRY_FORMULAS.find(
    (formula) => formula.id === id || plainName(formula.id) === plain || plainName(formula.name) === plain,
  );
  if (found) return found;
  const nearest = nearestNames(name, ASYMMETRY_FORMULAS.map((formula) => formula.id));
  throw new InputError("unknown-name", `asymmetry requires the name of a known formula, such as ${nearest.join(", ")}`);
}

/**
 * Difference between left and right by a named formula, by default `100 (L - R) / (L + R)`.
 *
 * Every signed percentage is positive when left is higher. The same pair gives
 * different numbers by different formulas: print the name with the value.
 *
 * @param left Result of the left side, in the unit of the quantity; more than zero.
 * @param right Result of the right side, in the same unit; more than zero.
 * @param formula Name of the formula, no unit.
 * @param dominant Entered dominant side, no unit; without it D is the larger side.
 * @returns Percentage by the formula, in %.
 * @throws {InputError} `not-a-number` if a side is not finite.
 * @throws {InputError} `out-of-range` if a side is not above zero.
 * @throws {InputError} `unknown-name` if the formula is not known.
 * @see Bishop et al. (2016, 2018); Zifchock et al. (2008); Parkinson et al. (2021).
 */
export function asymmetry(left: number, right: number, formula: string = "symmetryIndex", dominant?: Side): number {
  const chosen = asymmetryFormulaByName(formula);
  requireFinite("asymmetry", left, right);
  if (left <= 0 || right <= 0) throw new InputError("out-of-range", "asymmetry requires both sides above zero");
  return chosen.compute(left, right, dominant ?? (direction(left, right) < 0 ? "right" : "left"));
}

function dominantOf(left: number, right: number, dominant: Side): number {
  return dominant === "left" ? left : right;
}

function otherOf(left: number, right: number, dominant: Side): number {
  return dominant === "left" ? right : left;
}
