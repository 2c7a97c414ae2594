import { defineMetric, INTEGRATED, RELATIVE_FORM } from "./defineMetric.ts";
import type { MetricDefinition } from "./MetricDefinition.ts";

const FIRST_TEN = "Of the first ten contacts; the push-off of the preparatory jump and the last landing are not hops.";

/** Metrics of repeated hops. */
export const HOP_METRICS: readonly MetricDefinition[] = [
  defineMetric({
    id: "hopCount", name: "Valid hops", unit: "", tests: ["RH"], needs: ["T"],
    definition: "Number of contacts, each between two flights, that count: not skipped, not double, and within the contact limit where one is set.",
    watchFor: [FIRST_TEN], sources: ["harper2011"], better: "neither",
  }),
  defineMetric({
    id: "bestFiveRsi", name: "Reactive strength index, mean of the best five hops", unit: "m/s", tests: ["RH"], needs: ["T"],
    definition: "Mean of the five largest reactive strength indices of the hops: height from the flight after the contact, divided by the contact time; by flight time over contact time, without a unit, where the setting rsi-basis says so.",
    watchFor: [FIRST_TEN, "Needs five valid hops. Not interchangeable with a drop jump: about 30 % of the variance is shared."],
    sources: ["harper2011", "comyns2017", "stratford2020"], better: "higher",
  }),
  defineMetric({
    id: "lastFiveRsi", name: "Reactive strength index, mean of the last five hops", unit: "m/s", tests: ["RH"], needs: ["T"],
    definition: "Mean reactive strength index of the last five valid hops.",
    watchFor: [FIRST_TEN], sources: ["stratford2020"], better: "higher",
  }),
  defineMetric({
    id: "meanHopRsi", name: "Reactive strength index, mean of all valid hops", unit: "m/s", tests: ["RH"], needs: ["T"],
    definition: "Mean reactive strength index of all valid hops.",
    watchFor: ["The first three hops are usually worse."], sources: ["stratford2020"], better: "higher",
  }),
  defineMetric({
    id: "meanContactTime", name: "Mean contact time", unit: "s", tests: ["RH"], needs: ["T"],
    definition: "Mean time from touchdown to take-off of the hops that count (setting hops-used: the best five of the first ten, unless it says otherwise).",
    watchFor: ["Slow contacts count, unless a contact limit is set: say which."],
    sources: ["harper2011", "stratford2020"], better: "lower",
  }),
  defineMetric({
    id: "meanFlightTime", name: "Mean flight time", unit: "s", tests: ["RH"], needs: ["T"],
    definition: "Mean time of the flights of the hops that count (setting hops-used: the best five of the first ten, unless it says otherwise), from take-off to the next touchdown.",
    watchFor: ["Landing with more bent legs from hop to hop lengthens it."],
    sources: ["harper2011", "stratford2020"], better: "higher",
  }),
  defineMetric({
    id: "meanHopHeight", name: "Mean hop height", unit: "m", tests: ["RH"], needs: ["T"],
    definition: "Mean height of the hops that count (setting hops-used: the best five of the first ten, unless it says otherwise), from the flight time between take-off and the next touchdown.",
    assumptions: ["The centre of mass is as high at each touchdown as at the take-off before it."],
    watchFor: ["Landing lower than at take-off adds about half the difference."],
    sources: ["harper2011", "linthorne2001"], better: "higher",
  }),
  defineMetric({
    id: "hopStiffness", name: "Hop stiffness", unit: "N/m", tests: ["RH"], needs: INTEGRATED,
    definition: "Mean over the hops that count (setting hops-used: the best five of the first ten, unless it says otherwise) of the peak force divided by the drop of the centre of mass from touchdown to the lowest point of the contact.",
    assumptions: ["The leg is one spring; in vertical hopping leg stiffness and vertical stiffness are the same."],
    watchFor: ["From times alone it rests on a symmetric half sine of force (Dalleau et al.): the two are not the same number."],
    sources: ["mcmahon1990", "farley1999", "dalleau2004", "brughelli2008"], forms: RELATIVE_FORM, better: "neither",
  }),
  defineMetric({
    id: "hopPowerFromTimes", name: "Mean mechanical power of the hops, from times", unit: "W/kg", tests: ["RH"], needs: ["T"],
    definition: "Mean power of the contacts from the whole time and the sum of flights, from the first touchdown to the last landing.",
    assumptions: ["The acceleration is constant in each half of a contact."],
    watchFor: ["A model, not a measurement of power: never mix it with power from force and velocity."],
    sources: ["bosco1983"], better: "higher",
  }),
];
