import type { Trial } from "./Trial.ts";

/** How many times the load of the stated leg the other one has to carry for the leg to be taken as wrongly stated: no standing or hopping person comes near. */
const CLEARLY = 3;

/**
 * The leg that carried the load where a test of one leg names the other: the plate with clearly the larger mean force.
 *
 * @param trial A trial in which no jump was found on the stated leg.
 * @returns `left` or `right`; nothing where the stated leg carried the load, or there is no second plate.
 */
export function otherLegCarries(trial: Trial): "left" | "right" | undefined {
  const { freePlate } = trial;
  if (freePlate === undefined || (freePlate.role !== "left" && freePlate.role !== "right")) return undefined;
  return meanOf(freePlate.force) > CLEARLY * Math.abs(meanOf(trial.plates[0].force)) ? freePlate.role : undefined;
}

function meanOf(force: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < force.length; i++) sum += force[i];
  return sum / force.length;
}
