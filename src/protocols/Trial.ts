import type { Adjust } from "./Adjust.ts";
import type { EventName, Phase, TraceEvent } from "./Analysis.ts";
import type { Protocol } from "./Protocol.ts";
import { type Quantity, WEIGHT, Workings } from "./workings.ts";
import * as formulas from "./formulas.ts";
import { InputError } from "../errors.ts";
import { meanOf, type Weighing } from "../events/quietStanding.ts";
import { lowPass } from "../motion/lowPass.ts";
import type { Facts } from "../quality/Facts.ts";
import type { Settings } from "../settings/Settings.ts";
import { settingNumber, settingWord } from "../settings/settingValues.ts";
import { correctedProfile, loadProfile, type LoadProfile } from "../trace/loadProfile.ts";
import type { Take } from "../trace/memory.ts";
import type { Plate, Trace } from "../trace/Trace.ts";
import { correctedForce } from "../trace/zero.ts";
import { bodyWeightUncertainty } from "../uncertainty/bodyWeightUncertainty.ts";
import { BODY_WEIGHT, GAIN, GRAVITY, NOISE, ROUNDING, ZERO } from "../uncertainty/sources.ts";

/** Less than this is nobody, N. */
const LEAST_WEIGHT = 20;

/** Force of one foot as recorded, with what has to be taken off. */
export interface SideForce {
  readonly force: Float64Array;
  /** The same before a filter. */
  readonly unfiltered: Float64Array;
  /** Zero at time `middle`, N, and drift, N/s. */
  offset: number;
  slope: number;
  middle: number;
}

/** One trial on its way through the analysis: what is known so far. */
export class Trial {
  readonly work: Workings;
  readonly facts: Facts;
  readonly events = new Map<EventName, TraceEvent>();
  readonly phases: Phase[] = [];
  /** Why a metric is missing, by id. */
  readonly reasons = new Map<string, string>();
  readonly rate: number;
  /** Plates that carry the person in this test. */
  readonly plates: readonly Plate[];
  /** Plate of the foot that should stay off, in a test of one leg. */
  readonly freePlate: Plate | undefined;
  readonly boxPlate: Plate | undefined;
  /** {@link plates} before a filter. */
  readonly unfilteredPlates: readonly Plate[];
  readonly left: SideForce | undefined;
  readonly right: SideForce | undefined;
  profile: LoadProfile;
  /** Force of the sum with its zero removed, N. */
  force: Float64Array;
  /** The same before a filter: a filter smears the edges of a flight into it, so flights and zeros are looked for here. The same object without a filter. */
  unfiltered: LoadProfile;

  readonly gravity: Quantity;
  /** Weight of what is moved: the person and the load. */
  weight: Quantity | undefined;
  mass: Quantity | undefined;
  weighing: Weighing | undefined;
  /** An instant at which velocity and displacement are known, for the columns over time. */
  anchor: { sample: number; velocity: number; displacement: number; restBefore: boolean } | undefined;
  /** Standard uncertainties of the zero (N), the noise (N), the velocity at the start (m/s) and the weight (N). */
  uZero = 0;
  noise = 0;
  uStart = 0;
  uWeight = 0;
  /** Force of the sum below which a part of it may have been set to zero before it was recorded, N. */
  cutLevel = 0;
  readonly uGravity: number;
  readonly uGain: number;
  readonly uRounding: number;

  constructor(
    readonly trace: Trace,
    readonly protocol: Protocol,
    readonly settings: Settings,
    readonly adjust: Adjust,
    /** Memory for the columns of this trial. */
    readonly take: Take,
    /** Whether each step is written down. */
    recording: boolean,
  ) {
    this.rate = trace.rate;
    this.work = new Workings(recording);
    const cutOff = settingWord(settings, "filter") === "low-pass" ? settingNumber(settings, "filter-cut-off", Infinity) : Infinity;
    const filtered = cutOff < trace.rate / 2;
    const plates = filtered ? trace.plates.map((plate) => ({ role: plate.role, force: lowPass(plate.force, trace.rate, cutOff) })) : trace.plates;
    this.boxPlate = plates.find((plate) => plate.role === "box");
    const carrying = plates.filter((plate) => plate.role !== "box");
    const left = carrying.find((plate) => plate.role === "left");
    const right = carrying.find((plate) => plate.role === "right");
    const { limb } = protocol;
    const loaded = limb === "left" ? left : limb === "right" ? right : undefined;
    if (loaded !== undefined) {
      this.plates = [loaded];
      this.freePlate = loaded === left ? right : left;
    } else {
      this.plates = left !== undefined && right !== undefined ? [left, right] : carrying.slice(0, 1);
      this.freePlate = undefined;
    }
    if (this.plates.length === 0) throw new InputError("wrong-shape", "a trace requires at least one plate that carries the person");
    if (this.plates.length === 2) {
      this.left = { force: left!.force, unfiltered: this.before(left!).force, offset: 0, slope: 0, middle: 0 };
      this.right = { force: right!.force, unfiltered: this.before(right!).force, offset: 0, slope: 0, middle: 0 };
    }
    this.profile = loadProfile(this.plates.map((plate) => plate.force), trace.rate, take);
    this.force = this.profile.force;
    this.unfilteredPlates = filtered ? this.plates.map((plate) => this.before(plate)) : this.plates;
    this.unfiltered = filtered ? loadProfile(this.unfilteredPlates.map((plate) => plate.force), trace.rate, take) : this.profile;
    for (const [name, time] of adjust.events) {
      if (!(time >= 0 && time <= this.duration)) throw new InputError("out-of-range", `a moved event requires a time within the record; ${name} is not`);
    }
    const oneLeg = limb === "left" || limb === "right";
    this.facts = {
      test: protocol.test,
      rate: trace.rate,
      stance: oneLeg || protocol.test === "SJ" || protocol.test === "IMTP" ? "unsteady" : "stand",
      twoPlates: this.plates.length === 2,
    };
    if (filtered) this.facts.filteredAt = cutOff;
    if (adjust.mass !== undefined) this.facts.enteredMass = adjust.mass;
    if (adjust.events.size > 0) this.facts.moved = [...adjust.events].map(([event, time]) => ({ event, time }));
    this.uGravity = settingNumber(settings, "gravity-u") / 100;
    this.uGain = settingNumber(settings, "plate-gain-u") / 100;
    this.uRounding = Math.sqrt((trace.step * trace.step + trace.rounding * trace.rounding) * (this.plates.length / 12));
    const g = settingNumber(settings, "gravity");
    this.gravity = this.work.quantity(g, 0, GRAVITY, g * this.uGravity);
  }

  /** A plate before a filter. */
  before(plate: Plate): Plate {
    return this.trace.plates.find(({ role }) => role === plate.role)!;
  }

  get samples(): number {
    return this.force.length;
  }

  get duration(): number {
    return this.force.length / this.rate;
  }

  number(id: string): number {
    return settingNumber(this.settings, id);
  }

  word(id: string): string {
    return settingWord(this.settings, id);
  }

  event(name: EventName, time: number): number {
    const byHand = this.adjust.events.get(name);
    const at = byHand ?? time;
    this.events.set(name, { name, time: at, byHand: byHand !== undefined });
    return at;
  }

  /** Refuses events whose order a person has turned around. */
  requireOrder(...names: readonly EventName[]): void {
    let before: TraceEvent | undefined;
    for (const name of names) {
      const event = this.events.get(name);
      if (event === undefined) continue;
      if (before !== undefined && event.time < before.time && (before.byHand || event.byHand)) {
        throw new InputError("out-of-range", `moved events require their order; ${before.name} is not before ${name}`);
      }
      before = event;
    }
  }

  phase(name: Phase["name"], start: number, end: number): void {
    if (!(end > start)) return;
    const { phases } = this;
    let k = phases.push({ name, start, end }) - 1;
    for (; k > 0 && phases[k - 1]!.start > start; k--) [phases[k - 1], phases[k]] = [phases[k]!, phases[k - 1]!];
  }

  /** Takes a quiet stretch (or a weight given by hand) as the weight of what is moved. */
  setWeight(weighing: Weighing | undefined, given: number | undefined): void {
    const { work } = this;
    this.weighing = weighing;
    if (weighing !== undefined) {
      this.noise = weighing.noise;
      this.event("weighingStart", weighing.start / this.rate);
      this.event("weighingEnd", weighing.end / this.rate);
      this.phase("weighing", weighing.start / this.rate, weighing.end / this.rate);
      this.facts.weighingSeconds = (weighing.end - weighing.start) / this.rate;
      this.facts.weighingSway = weighing.sway;
      this.facts.weighingHalf = weighing.halfDifference;
    }
    if (given !== undefined) {
      this.facts.bodyWeightGiven = true;
      this.uWeight = given * Math.max(this.uGain, 0.001);
      this.weight = work.quantity(given, WEIGHT, BODY_WEIGHT, this.uWeight);
      work.measured(formulas.bodyWeightGiven, this.weight);
    } else if (weighing !== undefined && weighing.mean > LEAST_WEIGHT) {
      const samples = weighing.end - weighing.start;
      this.uWeight = bodyWeightUncertainty({ halfDifference: weighing.halfDifference, noise: weighing.noise, samples });
      const w = weighing.mean;
      this.weight = work.quantity(w, WEIGHT, BODY_WEIGHT, this.uWeight, ZERO, -this.uZero, GAIN, w * this.uGain, ROUNDING, this.uRounding);
      work.measured(formulas.bodyWeight, this.weight, work.exact(weighing.start / this.rate), work.exact(weighing.end / this.rate));
      work.measured(formulas.weighingSd, work.exact(weighing.sd, WEIGHT), this.weight);
      work.give(formulas.bodyWeightDoubt, work.exact(this.uWeight, WEIGHT), work.exact(this.uZero), work.exact(this.uRounding * Math.sqrt(12)));
    } else return;
    const { weight } = this;
    this.facts.bodyWeight = weight.value;
    if (weighing !== undefined) this.setStartDoubt(weighing);
    this.mass = work.give(formulas.movedMass, weight, this.gravity);
    const mass = work.give(formulas.bodyMass, weight, this.gravity, work.exact(this.protocol.load ?? 0));
    this.facts.bodyMass = mass.value;
    if (weighing !== undefined && this.left !== undefined && this.right !== undefined) {
      const left = meanOf(this.left.force, weighing) - this.left.offset;
      const right = meanOf(this.right.force, weighing) - this.right.offset;
      if (left + right > 0.5 * weighing.mean) this.facts.leftShare = left / (left + right);
    }
  }

  /** A person at rest sways: the velocity at which integration starts is known as well as the sway is small. */
  setStartDoubt(rest: Weighing): void {
    if (this.weight !== undefined) this.uStart = (this.gravity.value * rest.impulseSd) / this.weight.value;
  }

  /** Takes a constant and a linear drift off the sum: N, N/s, s. */
  correct(offset: number, slope: number, middle: number): void {
    // A sum is the trial's own array; the force of one plate is the recording's.
    const corrected = (profile: LoadProfile, plate: Plate): LoadProfile => {
      const { force } = profile;
      const into = force === plate.force ? this.take(force.length) : force;
      return correctedProfile(profile, correctedForce(force, offset, slope, middle, this.rate, into), offset, slope, middle);
    };
    const same = this.unfiltered === this.profile;
    this.profile = corrected(this.profile, this.plates[0]!);
    this.force = this.profile.force;
    this.unfiltered = same ? this.profile : corrected(this.unfiltered, this.unfilteredPlates[0]!);
  }

  /** A force of the sum, averaged over `count` samples. */
  forceQuantity(f: number, needs: number, count = 1): Quantity {
    const { work } = this;
    const few = 1 / Math.sqrt(count);
    const force = work.blank(f, needs);
    work.put(force, ZERO, -this.uZero);
    work.put(force, NOISE, this.noise * few);
    work.put(force, GAIN, f * this.uGain);
    work.put(force, ROUNDING, this.uRounding * few);
    return force;
  }
}
