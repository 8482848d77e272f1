// What weak springs and breaking leads make of the contacts' changes: late, lost and bounced ones.
import { Random } from "./random.ts";
import type { Pulses } from "./triggerFaults.ts";

const CONTACTS_STREAM = 7;
export const OPENING = 0;
export const CLOSING = 1;

/** By how long a floating arm closes late. */
export function floatLateS(float: Pulses["float"], speedRpm: number): number {
  if (float === null) return 0;
  const above = Math.max(0, speedRpm - float.fromRpm) / 1000;
  return above * float.lateUsPer1000Rpm * 1e-6;
}

/** Changes of the circuit that lie ahead, in the order of time. */
export class Contacts {
  readonly timesS: number[] = [];
  readonly marks: number[] = [];
  private readonly pulses: Pulses;
  private readonly random: Random;
  /** Mark of the last change taken off the list; null before the first. */
  private level: number | null = null;

  constructor(pulses: Pulses, seed: number) {
    this.pulses = pulses;
    this.random = new Random(seed, CONTACTS_STREAM);
  }

  /** A flank that the cam passed. One that changes nothing any more is left out. */
  flank(timeS: number, mark: number, speedRpm: number, plateDeg: number): void {
    // A flank ends what was still to come of the one before it: bounces, or a closing too late.
    while (this.timesS.length > 0 && (this.timesS.at(-1) as number) > timeS) {
      this.timesS.pop();
      this.marks.pop();
    }
    if ((this.marks.at(-1) ?? this.level) === mark) return;
    if (mark === OPENING) this.put(timeS, mark);
    else this.close(timeS, speedRpm, plateDeg);
  }

  /** Takes the first change off the list. */
  shift(): void {
    this.level = this.marks.shift() as number;
    this.timesS.shift();
  }

  private put(timeS: number, mark: number): void {
    this.timesS.push(timeS);
    this.marks.push(mark);
  }

  private close(flankS: number, speedRpm: number, plateDeg: number): void {
    const { bounce, float, breakingLeads } = this.pulses;
    for (const { plateFromDeg, plateToDeg, share } of breakingLeads) {
      const there = plateDeg >= plateFromDeg && plateDeg <= plateToDeg;
      if (there && this.happens(share)) return;
    }
    let timeS = flankS;
    if (float !== null && speedRpm > float.fromRpm) {
      const above = (speedRpm - float.fromRpm) / 1000;
      if (this.happens(above * float.lostSharePer1000Rpm)) return;
      timeS += floatLateS(float, speedRpm);
    }
    this.put(timeS, CLOSING);
    if (bounce === null || speedRpm <= bounce.fromRpm) return;
    if (!this.happens(((speedRpm - bounce.fromRpm) / 1000) * bounce.sharePer1000Rpm)) return;
    const againS = timeS + bounce.afterUs * 1e-6;
    this.put(againS, OPENING);
    this.put(againS + bounce.lengthUs * 1e-6, CLOSING);
  }

  private happens(share: number): boolean {
    return share > 0 && this.random.uniform() < share;
  }
}
