// The shaft's phase within one step and the moments at which it passes pickup edges and flanks.
import type { AdvanceSource } from "./advance.ts";
import type { Flanks } from "./cam.ts";
import { bendSense } from "./lobes.ts";
import { pickupErrorsDeg } from "./pickup.ts";
import type { Random } from "./random.ts";
import type { Scenario } from "./scenario.ts";
import { bendLateDeg, type Pulses } from "./triggerFaults.ts";

/** Enough for one step of 1 ms at the highest speed with 360 pickup edges, many times over. */
const EDGES_MAX = 1024;
const TURN_RAD = 2 * Math.PI;
const OMEGA_1000 = (1000 * Math.PI) / 30;
/** Ripple stops growing towards low speed where its sum reaches this share, else the shaft would turn back. */
const RIPPLE_SHARE_MAX = 0.3;
const NEWTON_STEPS = 12;
const NEWTON_S = 1e-11;

/** Moments collected in one step, for the board to read. */
export class Edges {
  readonly timesS = new Float64Array(EDGES_MAX);
  /** Pickup: number of the edge in its turn, 0 the index. Trigger: 0 for edge a, 1 for b. */
  readonly marks = new Uint16Array(EDGES_MAX);
  count = 0;

  add(timeS: number, mark: number): void {
    this.timesS[this.count] = timeS;
    this.marks[this.count] = mark;
    this.count++;
  }
}

/**
 * Phase in revolutions: within a step it is a quadratic in time plus ripple, whose angle falls with
 * the square of speed as that of a fixed torque does.
 */
export class Shaft {
  readonly pickup = new Edges();
  readonly trigger = new Edges();
  /** Not at an index pulse to begin with. */
  private phase = 0.3;
  private omega = 0;
  private acceleration = 0;
  private stepS = 0;
  private sense: 1 | -1 = 1;
  private nextPickup = 0;
  private nextFlank = 0;
  private flanks: Flanks;
  /** By how much the next flank is out of its place in this turn, revolutions. */
  private wobble = 0;
  private lastPickupS = 0;
  private slope = 0;
  private readonly pickupEdges: number;
  /** By how much each edge is out of its even place the unit's way round, and as it is met now: revolutions. */
  private readonly pickupErrors: Float64Array;
  private pickupLate: Float64Array;
  private readonly runOut: number;
  private readonly runOutPhaseRad: number;
  /** 1 where the unit is made to turn clockwise. */
  private readonly unitSense: 1 | -1;
  private readonly bushPlay: number;
  private readonly pulses: Pulses;
  /** Of the flanks that fire and of the others. */
  private readonly bendSenses: readonly [1 | -1, 1 | -1];
  private readonly couplingDeg: number;
  private readonly orders: Float64Array;
  private readonly amplitudes: Float64Array;
  private readonly phasesRad: Float64Array;
  /** 1 where the ripple is of constant percentage. */
  private readonly constant: Uint8Array;
  private readonly rippleFloor: number;
  private readonly indexJitterS: number;
  private readonly eventJitterS: number;
  private readonly advance: AdvanceSource;
  private readonly random: Random;

  constructor(
    scenario: Pick<Scenario, "rig" | "pulses" | "seed" | "unit">,
    advance: AdvanceSource,
    flanks: Flanks,
    random: Random,
  ) {
    const { rig: setup, pulses, seed, unit } = scenario;
    const { ripple } = setup;
    this.pickupEdges = setup.pickupEdges;
    this.pickupErrors = Float64Array.from(pickupErrorsDeg(setup, seed), (deg) => deg / 360);
    this.pickupLate = this.pickupErrors;
    this.runOut = setup.couplingRunOutDeg / 360;
    this.runOutPhaseRad = (setup.couplingRunOutPhaseDeg * Math.PI) / 180;
    this.unitSense = unit.rotation === "cw" ? 1 : -1;
    this.bushPlay = pulses.bushPlayDeg / 360;
    this.pulses = pulses;
    const other = unit.firingEdge === "a" ? "b" : "a";
    this.bendSenses = [bendSense(unit, unit.firingEdge), bendSense(unit, other)];
    this.couplingDeg = setup.couplingDeg;
    this.orders = Float64Array.from(ripple, ({ perTurn }) => perTurn);
    // A speed ripple of share s at order h is an angle of s / (2π·h) revolutions.
    this.amplitudes = Float64Array.from(
      ripple,
      ({ percentAt1000Rpm, perTurn }) => percentAt1000Rpm / 100 / (TURN_RAD * perTurn),
    );
    this.phasesRad = Float64Array.from(ripple, ({ phaseDeg }) => (phaseDeg * Math.PI) / 180);
    this.constant = Uint8Array.from(ripple, (item) => (item.constantPercent ? 1 : 0));
    const sum = (constant: boolean) =>
      ripple
        .filter(({ constantPercent }) => constantPercent === constant)
        .reduce((total, { percentAt1000Rpm }) => total + percentAt1000Rpm / 100, 0);
    this.rippleFloor = OMEGA_1000 * Math.sqrt(sum(false) / (RIPPLE_SHARE_MAX - sum(true)));
    this.indexJitterS = setup.indexJitterUs * 1e-6;
    this.eventJitterS = setup.eventJitterUs * 1e-6;
    this.advance = advance;
    this.random = random;
    this.flanks = flanks;
    this.seekEdges();
  }

  /** Takes up turning the given way, from rest. */
  turnAbout(sense: 1 | -1, flanks: Flanks): void {
    // The shaft stays where it is; only the way in which its phase is counted changes.
    if (sense !== this.sense) this.phase = Math.ceil(this.phase) - (this.phase % 1);
    this.sense = sense;
    this.flanks = flanks;
    // Turned the other way, the edges come in reverse order and one that stood late comes early.
    const reversed = (_: number, i: number) => -(this.pickupErrors.at(-i) as number);
    this.pickupLate = sense === 1 ? this.pickupErrors : this.pickupErrors.map(reversed);
    this.omega = 0;
    this.acceleration = 0;
    this.stepS = 0;
    this.seekEdges();
  }

  /** Collects the edges of the step that begins at `startS` with speed `omega`. */
  step(startS: number, stepS: number, omega: number, acceleration: number): void {
    this.omega = omega;
    this.acceleration = acceleration;
    this.stepS = stepS;
    this.pickup.count = 0;
    this.trigger.count = 0;
    if (omega > 0 || acceleration > 0) {
      const endPhase = this.phaseAt(stepS);
      this.collectPickup(startS, endPhase);
      this.collectTrigger(startS, endPhase);
      this.phase = this.meanPhaseAt(stepS);
    }
  }

  private collectPickup(startS: number, endPhase: number): void {
    const { pickupEdges, indexJitterS } = this;
    let fromS = 0;
    for (;;) {
      const goal = this.pickupPlace();
      if (goal > endPhase) return;
      fromS = this.timeOfPhase(goal, fromS);
      const jitterS = indexJitterS > 0 ? indexJitterS * this.random.normal() : 0;
      // Edges of one track cannot overtake each other.
      this.lastPickupS = Math.max(this.lastPickupS, startS + fromS + jitterS);
      this.pickup.add(this.lastPickupS, this.nextPickup % pickupEdges);
      this.nextPickup++;
    }
  }

  private collectTrigger(startS: number, endPhase: number): void {
    const { positions, edges, roles } = this.flanks;
    const { eventJitterS, bushPlay } = this;
    let fromS = 0;
    for (;;) {
      const at = this.nextFlank % positions.length;
      const role = roles[at] as number;
      const nominal = Math.floor(this.nextFlank / positions.length) + (positions[at] as number);
      const goal = nominal + this.wobble;
      if (goal > this.camPhase(endPhase, 1, role)) return;
      fromS = this.timeOfCamPhase(goal, role, fromS);
      const jitterS = eventJitterS > 0 ? eventJitterS * this.random.normal() : 0;
      this.trigger.add(startS + fromS + jitterS, edges[at] as number);
      this.nextFlank++;
      if (bushPlay > 0) this.wobble = bushPlay * this.random.normal();
    }
  }

  /** Newton's method; `this.slope` is set by phaseAt to revolutions per second. */
  private timeOfPhase(goal: number, fromS: number): number {
    let timeS = fromS;
    for (let i = 0; i < NEWTON_STEPS; i++) {
      const error = goal - this.phaseAt(timeS);
      const change = error / Math.max(this.slope, 1e-3);
      timeS = Math.min(Math.max(timeS + change, 0), this.stepS);
      if (Math.abs(change) < NEWTON_S) break;
    }
    return timeS;
  }

  private timeOfCamPhase(goal: number, role: number, fromS: number): number {
    // The slope leaves advance, bend and run-out out, which move far slower than the shaft.
    let timeS = fromS;
    for (let i = 0; i < NEWTON_STEPS; i++) {
      const error = goal - this.camPhase(this.phaseAt(timeS), timeS / this.stepS, role);
      const change = error / Math.max(this.slope, 1e-3);
      timeS = Math.min(Math.max(timeS + change, 0), this.stepS);
      if (Math.abs(change) < NEWTON_S) break;
    }
    return timeS;
  }

  private meanPhaseAt(timeS: number): number {
    return this.phase + ((this.omega + 0.5 * this.acceleration * timeS) * timeS) / TURN_RAD;
  }

  private phaseAt(timeS: number): number {
    const omega = this.omega + this.acceleration * timeS;
    const mean = this.meanPhaseAt(timeS);
    let phase = mean;
    let slope = 1;
    const { orders, amplitudes, constant } = this;
    if (orders.length > 0) {
      const scale = (OMEGA_1000 / Math.max(omega, this.rippleFloor)) ** 2;
      for (let i = 0; i < orders.length; i++) {
        const turn = TURN_RAD * (orders[i] as number);
        const angle = turn * mean + (this.phasesRad[i] as number);
        const amplitude = (constant[i] === 1 ? 1 : scale) * (amplitudes[i] as number);
        phase += amplitude * Math.sin(angle);
        slope += amplitude * turn * Math.cos(angle);
      }
    }
    this.slope = (slope * omega) / TURN_RAD;
    return phase;
  }

  /** Phase at which the next pickup edge is passed. */
  private pickupPlace(): number {
    const { nextPickup, pickupEdges, pickupLate } = this;
    return nextPickup / pickupEdges + (pickupLate[nextPickup % pickupEdges] as number);
  }

  /** Phase by which the flanks are met: advance brings them earlier, or later in reverse. */
  private camPhase(phase: number, share: number, role: number): number {
    const { sense, runOut } = this;
    const lateDeg = this.pulses.bends.length === 0 ? 0 : this.bentLateDeg(phase, share, role);
    const cam = phase + (sense * (this.advance.advanceDegAt(share, role) - lateDeg)) / 360;
    if (runOut === 0) return cam;
    // The run-out is the spindle's, so it goes by the spindle's place and not by the way of turning.
    const clockwise = sense * this.unitSense;
    const angle = TURN_RAD * clockwise * phase - this.runOutPhaseRad;
    return cam + clockwise * runOut * Math.cos(angle);
  }

  /** The bend is the shaft's, and the block that meets it moves with the plate. */
  private bentLateDeg(phase: number, share: number, role: number): number {
    const shaftDeg = this.sense * 360 * phase - this.couplingDeg + this.advance.plateDegAt(share);
    return bendLateDeg(this.pulses, shaftDeg, this.bendSenses[role === 0 ? 0 : 1]);
  }

  private seekEdges(): void {
    const phase = this.phaseAt(0);
    this.nextPickup = Math.floor(phase * this.pickupEdges);
    while (this.pickupPlace() <= phase) this.nextPickup++;
    const { positions } = this.flanks;
    const cam = this.camPhase(phase, 1, 0);
    const turn = Math.floor(cam);
    let passed = 0;
    while (passed < positions.length && (positions[passed] as number) <= cam - turn) passed++;
    this.nextFlank = turn * positions.length + passed;
  }
}
