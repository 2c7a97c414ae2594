import type { PageTexts } from "../PageTexts.ts";

/** Contributions to a standard uncertainty. */
export const UNCERTAINTY: PageTexts["uncertainty"] = {
  bodyWeight: { name: "Body weight", says: "How well the weighing window fixes body weight: the difference of its halves, noise, and the step of the values." },
  zero: { name: "Zero of the plates", says: "How well the force of the empty plates is known." },
  noise: { name: "Noise", says: "Noise of the force in the few samples that the value rests on." },
  startVelocity: { name: "Velocity at the start", says: "Integration starts from rest; a swaying body is never quite at rest." },
  sampling: { name: "Sampling", says: "Events fall between samples, or between the frames of a video." },
  threshold: { name: "Threshold", says: "The true event lies between the crossing of the threshold and zero force; take-off and landing share it." },
  onset: { name: "Start of movement", says: "The published rules place it up to 30 ms apart (setting onset-half-width)." },
  takeoff: { name: "Take-off", says: "Noise and sampling where the force crosses the threshold at take-off." },
  landing: { name: "Landing", says: "Noise and sampling where the force crosses the threshold at landing." },
  touchdown: { name: "Touchdown", says: "Noise and sampling where the force crosses the threshold at touchdown." },
  posture: { name: "Posture at landing", says: "How much lower the centre of mass is at landing than at take-off (settings landing-posture-mean, landing-posture-u)." },
  gravity: { name: "Gravity", says: "The value of gravity used, against the one at this place (setting gravity-u)." },
  gain: { name: "Plate calibration", says: "The gain of the plates (setting plate-gain-u); it cancels where force is divided by the weighed body weight." },
  rounding: { name: "Rounding", says: "The step to which the values of the trace are rounded." },
  dropHeight: { name: "Drop height", says: "How far the person really fell, against the height of the box." },
};
