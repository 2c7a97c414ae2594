import { BRAKING_JUMPS, defineMetric, FORCE_FORMS, IMPULSE_FORMS, INTEGRATED, JUMPS, RELATIVE_FORM, SHARED, STANDING_JUMPS } from "./defineMetric.ts";
import type { MetricDefinition } from "./MetricDefinition.ts";

/** Flight, height and velocity. */
const HEIGHTS: readonly MetricDefinition[] = [
  defineMetric({
    id: "flightTime", name: "Flight time", unit: "s", tests: JUMPS, needs: ["T"],
    definition: "Time from take-off to landing: the stretch in which the summed force is below the take-off threshold.",
    assumptions: ["The threshold is above the noise of the empty plates."],
    watchFor: ["Landing with bent legs lengthens the flight.", "One threshold for one history: 10 N and 50 N differ by about 2 ms on a clean plate, by more on one that rings."],
    range: { text: "0.40 to 0.65 s in a countermovement jump", source: "common practice" },
    sources: ["linthorne2001", "perez2021"], better: "higher",
  }),
  defineMetric({
    id: "takeoffVelocity", name: "Take-off velocity", unit: "m/s", tests: JUMPS, needs: INTEGRATED,
    definition: "Upward velocity of the centre of mass at take-off, from the integral of the net force since the onset (in a drop jump, from the chosen route to the velocity at touchdown).",
    assumptions: [SHARED.quietStart, SHARED.wholeFeet],
    watchFor: [SHARED.bodyWeight],
    range: { text: "2.0 to 3.1 m/s in a countermovement jump", source: "common practice" },
    sources: ["linthorne2001", "owen2014"], better: "higher",
  }),
  defineMetric({
    id: "jumpHeight", name: "Jump height", unit: "m", tests: JUMPS, needs: INTEGRATED,
    definition: "Rise of the centre of mass, by the method that the setting height-method names: take-off velocity (the default), flight time, or take-off velocity with the rise before take-off.",
    assumptions: ["Those of the method chosen."],
    watchFor: ["The three methods differ by up to 15 cm on one jump: never mix them in one history or one ratio."],
    range: { text: "0.20 to 0.50 m in a countermovement jump, 0.10 to 0.25 m on one leg", source: "common practice" },
    sources: ["linthorne2001", "moir2008", "eythorsdottir2024"], better: "higher",
  }),
  defineMetric({
    id: "jumpHeightTakeoffVelocity", name: "Jump height (take-off velocity)", unit: "m", tests: JUMPS, needs: INTEGRATED,
    definition: "Rise of the centre of mass above its height at take-off, from the take-off velocity.",
    assumptions: [SHARED.quietStart, SHARED.wholeFeet],
    watchFor: [SHARED.bodyWeight],
    sources: ["linthorne2001", "moir2008"], better: "higher",
  }),
  defineMetric({
    id: "jumpHeightFlightTime", name: "Jump height (flight time)", unit: "m", tests: JUMPS, needs: ["T"],
    definition: "Rise of the centre of mass above its height at take-off, from the time in the air.",
    assumptions: ["The centre of mass is as high at landing as it was at take-off."],
    watchFor: ["Landing 6 cm lower adds about 3 cm; in published comparisons it is on average 1 to 2 cm above the height from take-off velocity."],
    sources: ["linthorne2001", "baumgart2017"], better: "higher",
  }),
  defineMetric({
    id: "jumpHeightAboveStanding", name: "Jump height above standing", unit: "m", tests: ["CMJ"], needs: INTEGRATED,
    definition: "Rise of the centre of mass above its height in quiet standing: the height from take-off velocity and the rise up to take-off.",
    assumptions: [SHARED.quietStart, SHARED.wholeFeet, "Integrating twice keeps the displacement to a few millimetres up to take-off."],
    watchFor: ["It is 8 to 15 cm above the other heights (common practice): it answers another question."],
    sources: ["moir2008", "xu2023"], better: "higher",
  }),
  defineMetric({
    id: "heightDifference", name: "Height by flight time minus height by take-off velocity", unit: "m", tests: JUMPS, needs: INTEGRATED,
    definition: "The height from flight time less the height from take-off velocity, of the same jump. About half of the distance by which the centre of mass is lower at landing than at take-off.",
    watchFor: ["Above 2 cm: the legs were bent in landing, or the weighing was poor.", "Below zero by more than 1.5 cm is implausible: look at body weight, onset and the zero of the plates."],
    sources: ["baumgart2017", "linthorne2001"], better: "neither",
  }),
  defineMetric({
    id: "peakVelocity", name: "Peak upward velocity", unit: "m/s", tests: JUMPS, needs: INTEGRATED,
    definition: "Largest upward velocity of the centre of mass before take-off. There the force equals body weight; by take-off the velocity has fallen by 6 to 7 %.",
    assumptions: [SHARED.quietStart, SHARED.wholeFeet], watchFor: [SHARED.bodyWeight],
    sources: ["harman1990"], better: "higher",
  }),
  defineMetric({
    id: "minimumVelocity", name: "Peak downward velocity", unit: "m/s", tests: ["CMJ"], needs: INTEGRATED,
    definition: "Most negative velocity of the centre of mass between onset and take-off; it ends the unweighting phase.",
    assumptions: [SHARED.quietStart],
    watchFor: ["Printed negative: a value further from zero is a faster countermovement."],
    sources: ["mcmahon2018phases"], better: "neither",
  }),
  defineMetric({
    id: "takeoffDisplacement", name: "Displacement at take-off", unit: "m", tests: STANDING_JUMPS, needs: INTEGRATED,
    definition: "Height of the centre of mass at take-off above the starting posture: quiet standing in a countermovement jump, the held squat in a squat jump.",
    assumptions: [SHARED.quietStart],
    watchFor: ["In a squat jump it starts from the squat and is not comparable with a countermovement jump."],
    range: { text: "0.08 to 0.15 m in a countermovement jump", source: "common practice" },
    sources: ["moir2008", "lees2004"], better: "neither",
  }),
];

/** Times and ratios of times. */
const TIMES: readonly MetricDefinition[] = [
  defineMetric({
    id: "timeToTakeoff", name: "Time to take-off", unit: "s", tests: STANDING_JUMPS, needs: ["T", "B"],
    definition: "Time from the onset of movement (in a squat jump, of the push) to take-off. Some papers call it contraction time.",
    assumptions: ["The onset is the one that the setting onset-rule defines: its rule of 30 ms before the threshold is part of this time, and is no error that the uncertainty holds."],
    watchFor: [SHARED.onset],
    range: { text: "0.60 to 1.00 s in a countermovement jump", source: "common practice" },
    sources: ["owen2014", "mcmahon2018phases"], better: "lower",
  }),
  defineMetric({
    id: "rsiModified", name: "Modified reactive strength index", unit: "m/s", tests: STANDING_JUMPS, needs: INTEGRATED,
    definition: "Jump height divided by the time from onset to take-off. Height by the setting height-method.",
    watchFor: [SHARED.onset, "Read it with its two parts: the same value comes from a higher jump or from a shorter push."],
    range: { text: "men 0.208 to 0.704 m/s, women 0.135 to 0.553 m/s (151 collegiate athletes)", source: "sole2018" },
    sources: ["ebben2010", "sole2018"], better: "higher",
  }),
  defineMetric({
    id: "flightTimeToTakeoffTimeRatio", name: "Flight time to time to take-off ratio", unit: "", tests: STANDING_JUMPS, needs: ["T", "B"],
    definition: "Flight time divided by the time from onset to take-off.",
    watchFor: ["It says nearly the same as the modified reactive strength index: report one of the two.", SHARED.onset],
    range: { text: "0.5 to 1.0 in a countermovement jump", source: "common practice" },
    sources: ["mcmahon2018ratio"], better: "higher",
  }),
  defineMetric({
    id: "unweightingTime", name: "Unweighting time", unit: "s", tests: ["CMJ"], needs: INTEGRATED,
    definition: "Time from onset to the instant of peak downward velocity, where the force is body weight again. With an arm swing it holds the upward start as well.",
    watchFor: [SHARED.onset, SHARED.phaseNames],
    range: { text: "0.25 to 0.40 s", source: "common practice" },
    sources: ["mcmahon2018phases"], better: "neither",
  }),
  defineMetric({
    id: "brakingTime", name: "Braking time", unit: "s", tests: BRAKING_JUMPS, needs: INTEGRATED,
    definition: "Time from peak downward velocity (in a drop jump, from touchdown) to the lowest point, where the velocity is zero.",
    watchFor: [SHARED.phaseNames],
    range: { text: "0.12 to 0.25 s in a countermovement jump", source: "common practice" },
    sources: ["mcmahon2018phases"], better: "neither",
  }),
  defineMetric({
    id: "propulsionTime", name: "Propulsion time", unit: "s", tests: JUMPS, needs: INTEGRATED,
    definition: "Time from the lowest point (in a squat jump, from the onset of the push) to take-off.",
    watchFor: [SHARED.phaseNames],
    range: { text: "0.20 to 0.30 s in a countermovement jump", source: "common practice" },
    sources: ["mcmahon2018phases"], better: "neither",
  }),
];

/** Depths and displacements. */
const DISTANCES: readonly MetricDefinition[] = [
  defineMetric({
    id: "countermovementDepth", name: "Countermovement depth", unit: "m", tests: ["CMJ"], needs: INTEGRATED,
    definition: "Displacement of the centre of mass from quiet standing (at onset) to the lowest point. Printed negative.",
    assumptions: [SHARED.quietStart],
    watchFor: ["A change of depth changes height, force and time together: read those with it."],
    range: { text: "-0.20 to -0.45 m", source: "common practice" },
    sources: ["mcmahon2018phases"], better: "neither",
  }),
  defineMetric({
    id: "pushOffDistance", name: "Push-off distance", unit: "m", tests: JUMPS, needs: INTEGRATED,
    definition: "Rise of the centre of mass from the lowest point to take-off, in every test.",
    range: { text: "0.30 to 0.50 m in a squat jump", source: "common practice" },
    watchFor: ["The simple force-velocity method measures its push-off distance on the body, not on the trace: the two may differ."],
    sources: ["samozino2008"], better: "neither",
  }),
  defineMetric({
    id: "brakingDisplacement", name: "Braking displacement", unit: "m", tests: BRAKING_JUMPS, needs: INTEGRATED,
    definition: "Displacement of the centre of mass from peak downward velocity (in a drop jump, from touchdown) to the lowest point. Printed negative.",
    watchFor: ["In a drop jump it inherits the error of the velocity at touchdown."],
    sources: ["mcmahon2018phases"], better: "neither",
  }),
  defineMetric({
    id: "propulsionDisplacement", name: "Propulsion displacement", unit: "m", tests: JUMPS, needs: INTEGRATED,
    definition: "Displacement of the centre of mass over the propulsion phase, from the lowest point (in a squat jump, from the onset of the push) to take-off.",
    watchFor: ["Compare only within one test: it starts at the lowest point, or at the onset of the push."],
    sources: ["mcmahon2018phases"], better: "neither",
  }),
  defineMetric({
    id: "dipFraction", name: "Dip before the push", unit: "", tests: ["SJ"], needs: ["T", "B"],
    definition: "How far the force falls below body weight between the end of the hold and the onset of the push, as a fraction of body weight. A squat jump should have none.",
    watchFor: ["Judged by eye a dip is missed often: 43 of 56 squat jumps passed by eye had one in the force.", "A dip makes the squat jump a small countermovement jump and lowers every ratio to it."],
    sources: ["sheppard2008"], better: "lower",
  }),
];

/** Forces of the ground on the person. */
const FORCES: readonly MetricDefinition[] = [
  defineMetric({
    id: "minimumForce", name: "Minimum force", unit: "N", tests: ["CMJ"], needs: ["T"],
    definition: "Smallest force between onset and the lowest point.",
    watchFor: [SHARED.gain], sources: ["mcmahon2018phases"], forms: FORCE_FORMS, better: "neither",
  }),
  defineMetric({
    id: "peakForce", name: "Peak force", unit: "N", tests: ["CMJ", "SJ", "DJ", "IMTP"], needs: [],
    definition: "Largest force from onset to take-off (in a drop jump, from touchdown to take-off; in an isometric pull, after the onset of the pull). Gross: it holds body weight; the Net form does not. Never of the landing.",
    watchFor: [SHARED.gain, "Say gross or net: a ratio of two peak forces changes its band with the choice."],
    range: { text: "2.0 to 2.8 body weights in a countermovement jump; 25 to 45 N/kg gross in an isometric pull", source: "common practice" },
    sources: ["cormack2008", "comfort2019"], forms: FORCE_FORMS, better: "higher",
  }),
  defineMetric({
    id: "peakForceBraking", name: "Peak braking force", unit: "N", tests: BRAKING_JUMPS, needs: INTEGRATED,
    definition: "Largest force in the braking phase, from peak downward velocity (in a drop jump, from touchdown) to the lowest point.",
    watchFor: [SHARED.phaseNames, SHARED.gain], sources: ["mcmahon2018phases"], forms: FORCE_FORMS, better: "higher",
  }),
  defineMetric({
    id: "peakForcePropulsion", name: "Peak propulsion force", unit: "N", tests: JUMPS, needs: INTEGRATED,
    definition: "Largest force in the propulsion phase, from the lowest point (in a squat jump, from the onset of the push) to take-off.",
    watchFor: [SHARED.gain], sources: ["mcmahon2018phases"], forms: FORCE_FORMS, better: "higher",
  }),
  defineMetric({
    id: "meanForceUnweighting", name: "Mean unweighting force", unit: "N", tests: ["CMJ"], needs: INTEGRATED,
    definition: "Mean force from onset to peak downward velocity.",
    watchFor: [SHARED.onset, SHARED.gain], sources: ["mcmahon2018phases"], forms: FORCE_FORMS, better: "neither",
  }),
  defineMetric({
    id: "meanForceBraking", name: "Mean braking force", unit: "N", tests: BRAKING_JUMPS, needs: INTEGRATED,
    definition: "Mean force from peak downward velocity (in a drop jump, from touchdown) to the lowest point.",
    watchFor: [SHARED.phaseNames, SHARED.gain], sources: ["mcmahon2018phases", "cormack2008"], forms: FORCE_FORMS, better: "higher",
  }),
  defineMetric({
    id: "meanForcePropulsion", name: "Mean propulsion force", unit: "N", tests: JUMPS, needs: INTEGRATED,
    definition: "Mean force from the lowest point (in a squat jump, from the onset of the push) to take-off.",
    watchFor: [SHARED.gain, "Mean force repeats best of all jump metrics: a coefficient of variation of about 1 % was found for it."],
    sources: ["cormack2008", "mcmahon2018phases"], forms: FORCE_FORMS, better: "higher",
  }),
  defineMetric({
    id: "forceAtZeroVelocity", name: "Force at the lowest point", unit: "N", tests: BRAKING_JUMPS, needs: INTEGRATED,
    definition: "Force at the lowest point, where the velocity is zero.",
    watchFor: [SHARED.gain],
    range: { text: "1.8 to 2.6 body weights in a countermovement jump", source: "common practice" },
    sources: ["mcmahon2018phases"], forms: FORCE_FORMS, better: "higher",
  }),
];

/** Mean velocities, impulses, powers, rates and stiffness. */
const DYNAMICS: readonly MetricDefinition[] = [
  defineMetric({
    id: "meanVelocityBraking", name: "Mean braking velocity", unit: "m/s", tests: BRAKING_JUMPS, needs: INTEGRATED,
    definition: "Displacement over the braking phase (peak downward velocity, or touchdown, to the lowest point) divided by its time. Printed negative.",
    watchFor: [SHARED.phaseNames],
    sources: ["mcmahon2018phases"], better: "neither",
  }),
  defineMetric({
    id: "meanVelocityPropulsion", name: "Mean propulsion velocity", unit: "m/s", tests: JUMPS, needs: INTEGRATED,
    definition: "Displacement over the propulsion phase (lowest point to take-off; in a squat jump from the onset of the push) divided by its time.",
    range: { text: "1.3 to 1.8 m/s in a countermovement jump", source: "common practice" },
    watchFor: ["A longer push at the same take-off velocity lowers it: read it with the push-off distance."],
    sources: ["mcmahon2018phases"], better: "higher",
  }),
  defineMetric({
    id: "unweightingImpulse", name: "Unweighting impulse", unit: "N s", tests: ["CMJ"], needs: INTEGRATED,
    definition: "Net impulse from onset to peak downward velocity; negative, and by mechanics equal and opposite to the braking impulse. The impulse of a side is gross.",
    watchFor: ["That it equals minus the braking impulse is an identity, not a sign of a good trial."],
    sources: ["mcmahon2018phases"], forms: IMPULSE_FORMS, better: "neither",
  }),
  defineMetric({
    id: "brakingImpulse", name: "Braking impulse", unit: "N s", tests: BRAKING_JUMPS, needs: INTEGRATED,
    definition: "Net impulse from peak downward velocity (in a drop jump, from touchdown) to the lowest point. The impulse of a side is gross.",
    watchFor: ["It is fixed by the speed at the start of the phase; how it was made (force and time) is not in it.", SHARED.phaseNames],
    sources: ["mcmahon2018phases"], forms: IMPULSE_FORMS, better: "neither",
  }),
  defineMetric({
    id: "propulsionImpulse", name: "Propulsion impulse", unit: "N s", tests: JUMPS, needs: INTEGRATED,
    definition: "Net impulse from the lowest point (in a squat jump, from the onset of the push) to take-off: mass times take-off velocity. The impulse of a side is gross.",
    watchFor: ["Per kilogram it is the take-off velocity again."],
    sources: ["linthorne2001", "mcmahon2018phases"], forms: IMPULSE_FORMS, better: "higher",
  }),
  defineMetric({
    id: "peakPower", name: "Peak power", unit: "W", tests: JUMPS, needs: INTEGRATED,
    definition: "Largest product of gross force and velocity of the centre of mass in the propulsion phase, from the lowest point (in a squat jump, from the onset of the push) to take-off.",
    assumptions: [SHARED.quietStart, SHARED.wholeFeet],
    watchFor: [SHARED.relativePower, SHARED.gain, "Never mix it with power estimated from height."],
    range: { text: "40 to 65 W/kg in a countermovement jump", source: "common practice" },
    sources: ["owen2014", "harman1990", "linthorne2021"], forms: RELATIVE_FORM, better: "higher",
  }),
  defineMetric({
    id: "meanPowerPropulsion", name: "Mean propulsion power", unit: "W", tests: JUMPS, needs: INTEGRATED,
    definition: "Work on the centre of mass over the propulsion phase (lowest point, or onset of the push, to take-off) divided by its time.",
    watchFor: [SHARED.relativePower], sources: ["owen2014", "linthorne2021"], forms: RELATIVE_FORM, better: "higher",
  }),
  defineMetric({
    id: "meanPowerBraking", name: "Mean braking power", unit: "W", tests: BRAKING_JUMPS, needs: INTEGRATED,
    definition: "Work on the centre of mass over the braking phase (peak downward velocity, or touchdown, to the lowest point) divided by its time. Printed negative.",
    watchFor: [SHARED.phaseNames], sources: ["mcmahon2018phases"], forms: RELATIVE_FORM, better: "neither",
  }),
  defineMetric({
    id: "minimumPowerBraking", name: "Peak braking power", unit: "W", tests: BRAKING_JUMPS, needs: INTEGRATED,
    definition: "Most negative product of gross force and velocity from peak downward velocity (in a drop jump, from touchdown) to the lowest point.",
    watchFor: [SHARED.phaseNames], sources: ["mcmahon2018phases"], forms: RELATIVE_FORM, better: "neither",
  }),
  defineMetric({
    id: "brakingRfd", name: "Braking rate of force development", unit: "N/s", tests: ["CMJ"], needs: INTEGRATED,
    definition: "Force at the lowest point less the force at peak downward velocity, divided by the time between them.",
    watchFor: [SHARED.rfdReliability, "Not defined for a drop jump, where the impact comes first."],
    sources: ["maffiuletti2016", "souza2020"], forms: RELATIVE_FORM, better: "higher",
  }),
  defineMetric({
    id: "maximumRfd", name: "Maximum rate of force development", unit: "N/s", tests: ["CMJ", "SJ", "IMTP"], needs: ["T"],
    definition: "Largest rise of the force over a moving window (a setting, 50 ms for jumps and 20 ms for the isometric pull), divided by the window, between onset and peak force.",
    watchFor: [SHARED.rfdReliability, "The window is part of the number: a shorter one gives more."],
    sources: ["maffiuletti2016", "souza2020"], forms: RELATIVE_FORM, better: "higher",
  }),
  defineMetric({
    id: "countermovementStiffness", name: "Countermovement stiffness", unit: "N/m", tests: ["CMJ"], needs: INTEGRATED,
    definition: "Force at the lowest point, less body weight, divided by the countermovement depth (the form is a setting).",
    assumptions: ["The body is taken as one spring; a countermovement is only loosely one."],
    watchFor: ["Three formulas are in use: compare only like with like."],
    sources: ["brughelli2008"], forms: RELATIVE_FORM, better: "neither",
  }),
];

/** Metrics of the way up: from the onset to the top of the flight. */
export const JUMP_METRICS: readonly MetricDefinition[] = [...HEIGHTS, ...TIMES, ...DISTANCES, ...FORCES, ...DYNAMICS];
