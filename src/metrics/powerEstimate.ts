import { InputError } from "../errors.ts";
import { requireAboveZero } from "../guards.ts";
import { nearestNames, plainName } from "../names.ts";

/** A published regression of power on jump height and body mass; coefficients as printed, in W per cm, kg and cm. */
export interface PowerEquation {
  readonly id: string;
  readonly name: string;
  readonly quantity: "peak" | "mean";
  readonly perCentimetre: number;
  readonly perKilogram: number;
  /** W per cm of stature; absent where stature does not enter. */
  readonly perStatureCentimetre?: number;
  readonly constant: number;
  /** Jump and people it was made from, and what to watch for. */
  readonly note: string;
  readonly source: string;
}

/**
 * The published equations. Coefficients from memory, cross-checked against the group means of Canavan & Vescovi
 * (2004), which were read. The constant of Harman et al. is minus 1822; reprints with plus 1822 are wrong, since the
 * group means would then need a negative height.
 */
export const POWER_EQUATIONS: readonly PowerEquation[] = [
  {
    id: "sayersSquatJump",
    name: "Sayers, squat jump",
    quantity: "peak",
    perCentimetre: 60.7,
    perKilogram: 45.3,
    constant: -2055,
    note: "Squat jump; men and women together (from memory)",
    source: "Sayers et al. (1999)",
  },
  {
    id: "sayersCountermovementJump",
    name: "Sayers, countermovement jump",
    quantity: "peak",
    perCentimetre: 51.9,
    perKilogram: 48.9,
    constant: -2007,
    note: "Countermovement jump; men and women together (from memory)",
    source: "Sayers et al. (1999)",
  },
  {
    id: "harmanPeak",
    name: "Harman, peak power",
    quantity: "peak",
    perCentimetre: 61.9,
    perKilogram: 36.0,
    constant: -1822,
    note: "Squat jump of men (from memory); the constant is minus 1822, though often reprinted with a plus",
    source: "Harman et al. (1991)",
  },
  {
    id: "harmanMean",
    name: "Harman, mean power",
    quantity: "mean",
    perCentimetre: 21.2,
    perKilogram: 23.0,
    constant: -1393,
    note: "Squat jump of men (from memory)",
    source: "Harman et al. (1991)",
  },
  {
    id: "johnsonBahamondePeak",
    name: "Johnson and Bahamonde, peak power",
    quantity: "peak",
    perCentimetre: 78.5,
    perKilogram: 60.6,
    perStatureCentimetre: -15.3,
    constant: -1308,
    note: "Countermovement jump of university athletes, men and women (from memory); needs stature",
    source: "Johnson & Bahamonde (1996)",
  },
  {
    id: "johnsonBahamondeMean",
    name: "Johnson and Bahamonde, mean power",
    quantity: "mean",
    perCentimetre: 43.8,
    perKilogram: 32.7,
    perStatureCentimetre: -16.8,
    constant: 431,
    note: "Countermovement jump of university athletes, men and women (from memory); needs stature",
    source: "Johnson & Bahamonde (1996)",
  },
  {
    id: "canavanVescovi",
    name: "Canavan and Vescovi",
    quantity: "peak",
    perCentimetre: 65.1,
    perKilogram: 25.8,
    constant: -1413.1,
    note: "Countermovement jump of women",
    source: "Canavan & Vescovi (2004)",
  },
];

/** Short names people use for the equations. */
const ALIASES: Readonly<Record<string, string>> = {
  sayers: "sayersCountermovementJump",
  sayerscmj: "sayersCountermovementJump",
  sayerssj: "sayersSquatJump",
  harman: "harmanPeak",
  johnsonbahamonde: "johnsonBahamondePeak",
  johnson: "johnsonBahamondePeak",
  canavan: "canavanVescovi",
};

/** The equation of a name (any case, spaces or underscores); throws `unknown-name` with the nearest ones. */
export function powerEquationByName(name: string): PowerEquation {
  const plain = plainName(name);
  const id = Object.hasOwn(ALIASES, plain) ? ALIASES[plain] : undefined;
  const found = POWER_EQUATIONS.find(
    (equation) => equation.id === id || plainName(equation.id) === plain || plainName(equation.name) === plain,
  );
  if (found) return found;
  const nearest = nearestNames(name, POWER_EQUATIONS.map((equation) => equation.id));
  throw new InputError("unknown-name", `power estimate requires the name of a known equation, such as ${nearest.join(", ")}`);
}

/**
 * Power of a jump from its height and body mass by a published regression:
 * `power = a height(cm) + b mass + c stature(cm) + d`.
 *
 * An estimate for groups like those of the paper, with the height measured as in
 * the paper. Not for change in one person, and never to be mixed with measured power.
 *
 * @param height Jump height, in m; more than zero.
 * @param mass Body mass, in kg; more than zero.
 * @param equation Name of the equation, no unit; Sayers, countermovement jump, by default.
 * @param stature Stature, in m; needed by the equations of Johnson and Bahamonde only.
 * @returns Peak or mean power, as the equation says, in W.
 * @throws {InputError} `not-a-number` if an argument is not finite.
 * @throws {InputError} `out-of-range` if an argument is not positive.
 * @throws {InputError} `unknown-name` if the equation is not known.
 * @throws {InputError} `not-available` if stature is missing, or the equation gives no positive power there.
 * @see Sayers et al. (1999); Harman et al. (1991); Johnson & Bahamonde (1996); Canavan & Vescovi (2004).
 */
export function powerEstimate(
  height: number,
  mass: number,
  equation: string = "sayersCountermovementJump",
  stature?: number,
): number {
  const chosen = powerEquationByName(equation);
  requireAboveZero("power estimate", "a height", height);
  requireAboveZero("power estimate", "a body mass", mass);
  let power = chosen.perCentimetre * height * 100 + chosen.perKilogram * mass + chosen.constant;
  if (chosen.perStatureCentimetre !== undefined) {
    if (stature === undefined) {
      throw new InputError("not-available", `power estimate by ${chosen.name} requires a stature`);
    }
    requireAboveZero("power estimate", "a stature", stature);
    power += chosen.perStatureCentimetre * stature * 100;
  }
  if (power <= 0) {
    throw new InputError("not-available", "power estimate requires a height and a mass for which the equation gives a positive power");
  }
  return power;
}
