// The way of the trigger's edges from the flanks to the board's capture: contacts, condenser, input and noise.
import { CLOSING, Contacts, OPENING } from "./contacts.ts";
import { Random } from "./random.ts";
import type { RigSetup, Scenario } from "./scenario.ts";
import { Edges, type Shaft } from "./shaft.ts";
import type { Pulses } from "./triggerFaults.ts";

const NOISE_STREAM = 6;
const MICRO = 1e-6;
/** Ignition noise after an edge, and how long it holds the input over. */
const NOISE_AFTER_S = [20 * MICRO, 200 * MICRO] as const;
const NOISE_LENGTH_S = [5 * MICRO, 50 * MICRO] as const;

/** By how long a condenser left across the contacts delays the sensed opening, to half the supply. */
export function condenserDelayS(rig: RigSetup, pulses: Pulses): number {
  return rig.sensePullUpOhm * pulses.condenserUf * MICRO * Math.LN2;
}

/** True where edges do not reach the board just as the flanks make them. */
export function changesTrigger({ rig, pulses }: Scenario): boolean {
  const shares = rig.doubleEdgeShare + rig.falseEventShare + rig.missingEventShare;
  const { bounce, float, breakingLeads, magnetic } = pulses;
  return (
    rig.delayUs + shares + pulses.condenserUf > 0 ||
    bounce !== null ||
    float !== null ||
    breakingLeads.length > 0 ||
    magnetic?.reversed === true
  );
}

export class TriggerInput {
  /** Edges that the last step brought to the board. */
  readonly sensed = new Edges();
  private readonly rig: RigSetup;
  private readonly contacts: Contacts;
  private readonly random: Random;
  private readonly reversed: boolean;
  private readonly openingDelayS: number;
  private readonly delayS: number;
  /** When the condenser will have charged after the last opening; null where it has, or is shorted. */
  private chargedS: number | null = null;
  /** Mark of the last true edge sensed. */
  private level: number = CLOSING;
  private missed = false;
  /** Noise to come: start and end, in the order of time. */
  private noise: readonly (readonly [number, number])[] = [];

  constructor({ rig, pulses, seed }: Scenario) {
    this.rig = rig;
    this.contacts = new Contacts(pulses, seed);
    this.random = new Random(seed, NOISE_STREAM);
    this.reversed = pulses.magnetic?.reversed === true;
    this.openingDelayS = condenserDelayS(rig, pulses);
    this.delayS = rig.delayUs * MICRO;
  }

  /** Takes the edges of the shaft's last step, which ended at `nowS`. */
  step(shaft: Shaft, nowS: number, speedRpm: number, plateDeg: number): void {
    const { contacts, sensed } = this;
    sensed.count = 0;
    for (let i = 0; i < shaft.trigger.count; i++) {
      const mark = shaft.trigger.marks[i] as number;
      const timeS = shaft.trigger.timesS[i] as number;
      contacts.flank(timeS, this.reversed ? 1 - mark : mark, speedRpm, plateDeg);
    }
    if (this.rig.falseEventShare > 0) this.falseEvents(shaft.pickup, speedRpm);
    for (;;) {
      const timeS = contacts.timesS[0];
      if (timeS === undefined || timeS > nowS) break;
      this.change(timeS, contacts.marks[0] as number);
      contacts.shift();
    }
    this.charge(nowS);
    this.makeNoise(nowS);
  }

  /** A change of the circuit as the condenser lets the input see it. */
  private change(timeS: number, mark: number): void {
    this.charge(timeS);
    if (mark === OPENING && this.openingDelayS > 0) {
      this.chargedS = timeS + this.openingDelayS;
      return;
    }
    // Shorted before it had charged: the input saw nothing of the opening.
    if (this.chargedS !== null) this.chargedS = null;
    else this.sense(timeS, mark);
  }

  private charge(untilS: number): void {
    const { chargedS } = this;
    if (chargedS === null || chargedS > untilS) return;
    this.chargedS = null;
    this.sense(chargedS, OPENING);
  }

  private sense(timeS: number, mark: number): void {
    const { missingEventShare, doubleEdgeShare } = this.rig;
    this.makeNoise(timeS);
    // Noise that this edge cuts goes under in it.
    this.noise = this.noise.filter(([startS]) => startS >= timeS);
    if (mark === OPENING) this.missed = this.happens(missingEventShare);
    if (this.missed) return;
    this.level = mark;
    this.sensed.add(timeS + this.delayS, mark);
    if (this.happens(doubleEdgeShare)) this.expectNoise(timeS + this.between(NOISE_AFTER_S));
  }

  /** Sends the pairs of spurious edges that end by `untilS`. */
  private makeNoise(untilS: number): void {
    for (;;) {
      const [startS, endS] = this.noise[0] ?? [untilS, Number.POSITIVE_INFINITY];
      if (endS > untilS) return;
      this.noise = this.noise.slice(1);
      this.sensed.add(startS + this.delayS, 1 - this.level);
      this.sensed.add(endS + this.delayS, this.level);
    }
  }

  private falseEvents(pickup: Edges, speedRpm: number): void {
    for (let i = 0; i < pickup.count; i++) {
      if (pickup.marks[i] !== 0 || !this.happens(this.rig.falseEventShare)) continue;
      const turnS = 60 / Math.max(speedRpm, 1);
      this.expectNoise((pickup.timesS[i] as number) + turnS * this.random.uniform());
    }
  }

  private expectNoise(startS: number): void {
    const endS = startS + this.between(NOISE_LENGTH_S);
    if (this.noise.some(([start, end]) => startS <= end && start <= endS)) return;
    this.noise = [...this.noise, [startS, endS] as const].sort(([one], [other]) => one - other);
  }

  private between([least, most]: readonly [number, number]): number {
    return least + (most - least) * this.random.uniform();
  }

  private happens(share: number): boolean {
    return share > 0 && this.random.uniform() < share;
  }
}
