import type { Texts } from "../Texts.ts";

/** Words that are not metrics of one trial: ratios, statistics, events, phases, and the words of the program itself. */
export const TERMS: Texts["terms"] = [
  // Ratios of two tests.
  {
    names: ["Eccentric utilisation ratio", "EUR", "eccentric utilization ratio"],
    text: "Countermovement jump divided by squat jump, both by the same height method (or both in peak power). A larger value may mean a good use of the countermovement as much as a poor start from the held squat; a dip in the squat jump lowers it. Read it with its two parts and its interval.",
    sources: ["mcguigan2006", "vanhooren2017", "ijerph2021"],
  },
  {
    names: ["Pre-stretch augmentation", "prestretch augmentation"],
    text: "Countermovement jump less squat jump, in percent of the squat jump. It says the same as the eccentric utilisation ratio, and has the same doubts.",
    sources: ["walshe1996", "vanhooren2017"],
  },
  {
    names: ["Dynamic strength index", "DSI"],
    text: "Peak force of a countermovement or squat jump (up to take-off, never of the landing) divided by the peak force of the isometric mid-thigh pull. Both gross or both net, never mixed: the choice alone can change the band. The bands 0.60 and 0.80 are in use; indices by peak force and by impulse agreed on the emphasis in fewer than half of the cases.",
    sources: ["thomas2017", "comfort2018", "plosone2025"],
  },
  {
    names: ["Arm-swing gain", "arm swing contribution", "arm swing"],
    text: "Jump with arm swing less jump without, in percent of the one without, by the same height method. Part of it is a higher posture at take-off, part a higher take-off velocity.",
    sources: ["lees2004", "feltner1999", "vaverka2016"],
  },
  {
    names: ["Bilateral index", "bilateral deficit"],
    text: "Result with both legs in percent of the sum of left and right alone, less 100; negative is a deficit. Heights of two legs do not add up: force or power is safer, and the variable belongs beside the number.",
    sources: ["howard1991", "skarabot2016"],
  },
  {
    names: ["Asymmetry", "interlimb asymmetry"],
    text: "Difference between left and right in percent, by a named formula; positive when left is higher. The same pair gives 4 to 14 % by different formulas, so the name belongs beside the number and thresholds do not carry over. It repeats far less well than the two sides themselves, and its direction changes between sessions in many people.",
    sources: ["bishop2016", "bishop2018", "parkinson2021", "afonso2022"],
  },
  {
    names: ["Reactive strength profile", "drop height profile"],
    text: "Reactive strength, height and contact time over several real drop heights. The best height has the largest index with a fast contact; two heights differ only if the gap is larger than the typical error allows. One drop height does not represent a person.",
    sources: ["keiner2024", "prieske2019"],
  },
  {
    names: ["Force-velocity profile", "load profile"],
    text: "Mean push-off force and velocity of jumps with several loads, and the line through them. Its ends are extrapolated and its slope repeats poorly: show the points and the interval, and draw no verdict for training from the slope.",
    sources: ["samozino2008", "lindberg2021", "samozino2022"],
  },
  // Reliability and change.
  {
    names: ["Typical error", "TE", "standard error of measurement", "SEM"],
    text: "Standard deviation of one person's results around their own true value, from repeated tests: the standard deviation of the differences of two tests divided by the square root of two. In raw units, or as a coefficient of variation. It holds what people vary as well as what the equipment does.",
    sources: ["hopkins2000", "atkinson1998"],
  },
  {
    names: ["Intraclass correlation", "ICC"],
    text: "Share of the variance of results that is between people. The form (model, single or mean) and the number of people belong beside it. In a mixed squad it can be high with a large typical error.",
    sources: ["shrout1979", "mcgraw1996"],
  },
  {
    names: ["Smallest worthwhile change", "SWC"],
    text: "A share, 0.2 by default, of the observed standard deviation between people: the least change that is taken to matter. A convention, not a law. If the typical error is as large, one trial cannot show it in one person.",
    sources: ["hopkins2000"],
  },
  {
    names: ["Minimal detectable change", "MDC"],
    text: "The change of one person that exceeds the noise of two tests at the stated level: 1.96 (for 95 %) times the square root of two times the typical error.",
    sources: ["atkinson1998"],
  },
  {
    names: ["Limits of agreement"],
    text: "Mean difference of two methods or tests, plus and minus 1.96 of its standard deviations: where 95 % of the differences lie. With few people the limits themselves are uncertain.",
    sources: ["bland1986"],
  },
  {
    names: ["Reliable change index", "RCI"],
    text: "Change divided by the standard error of a difference of two tests; beyond 1.96 it is larger than noise at the 95 % level.",
    sources: ["jacobson1991"],
  },
  {
    names: ["Coefficient of variation", "CV"],
    text: "Typical error in percent of the mean. From logarithms (the default), as the typical error over the mean, or as the root mean square of each person's own: the three differ a little, so the form belongs beside it.",
    sources: ["hopkins2000", "atkinson1998"],
  },
  {
    names: ["Baseline", "prediction band"],
    text: "The last sessions of a person, without the new one, and the band in which a new result is expected. From few sessions a person's own spread is unreliable, and the typical error of the group serves better.",
    sources: ["hopkins2000"],
  },
  {
    names: ["T score", "z score"],
    text: "A result against a group: z is the distance from the mean in standard deviations, T is 50 + 10 z. Turned round where less is better. It says where a person stands in this group, with this protocol, and nothing beyond it.",
    sources: [],
  },
  {
    names: ["Standard uncertainty", "uncertainty", "u"],
    text: "How well one result is known, as a standard deviation, from a budget of everything that bears on it. Twice it covers about 95 of 100 cases. It is for absolute claims; for the change of a person use the typical error.",
    sources: ["jcgm2008"],
  },
  // Events and phases.
  {
    names: ["Onset", "start of movement"],
    text: "The instant at which the force leaves body weight for good, by the onset rule of the settings. Height hardly depends on it; times that begin at it do, by 10 to 40 ms.",
    sources: ["owen2014", "sports2022"],
  },
  {
    names: ["Take-off", "landing"],
    text: "The instants at which the summed force falls below, and rises above, the threshold of the settings, between samples by a straight line. A higher threshold gives an earlier take-off and a longer flight.",
    sources: ["perez2021", "linthorne2001"],
  },
  {
    names: ["Unweighting", "unweighting phase"],
    text: "From the onset to the peak downward velocity, where the force is body weight again.",
    sources: ["mcmahon2018phases"],
  },
  {
    names: ["Unloading", "yielding"],
    text: "Other names of two parts of unweighting, where the settings ask for them: unloading from the onset to the least force, yielding from there to the peak downward velocity. The metrics keep the events that their definitions name.",
    sources: ["harry2020"],
  },
  {
    names: ["Braking", "braking phase"],
    text: "From the peak downward velocity (in a drop jump from touchdown) to the lowest point, where the velocity is zero. Papers use \"eccentric\" for this and for two other stretches of time.",
    sources: ["mcmahon2018phases", "harry2020"],
  },
  {
    names: ["Propulsion", "propulsion phase"],
    text: "From the lowest point (in a squat jump from the onset of the push) to take-off.",
    sources: ["mcmahon2018phases"],
  },
  {
    names: ["Lowest point"],
    text: "The instant after the peak downward velocity at which the velocity is zero: the deepest position of the centre of mass.",
    sources: ["mcmahon2018phases"],
  },
  // Words of the program.
  {
    names: ["Trace"],
    text: "The vertical force of the ground over time, at a constant rate: the sum, or left and right. In a sheet it is a text in one to four cells, or a range of numbers.",
    sources: [],
  },
  {
    names: ["Protocol"],
    text: "What the person was asked to do, as one text in a fixed order: test, drop height, arms, limb, load. Like protocols are equal texts; unlike ones are never mixed silently.",
    sources: [],
  },
  {
    names: ["Verdict"],
    text: "The most severe finding of a trial: keep, look, or leave out. It never stops the computing and deletes nothing; the decision is a person's.",
    sources: [],
  },
  {
    names: ["Adjust"],
    text: "What a person stated or moved for one trial, as one text: body weight, mass, times of events. An argument of the formula, printed with the result.",
    sources: [],
  },
  {
    names: ["Settings digest", "settingsDigest"],
    text: "A short text that is equal for equal settings and different otherwise. It is kept with every recorded result.",
    sources: [],
  },
];
