// The person at the rig, asked at a terminal: for leave to move it, and for what takes a hand.
import { CAUTIONS } from "../../core/cautions.ts";
import type { Operator } from "../calibration/operator.ts";
import { HAND_TASKS, type HandTask, type Person } from "./person.ts";

/** Common practice, no source. */
const BEFORE_TEST: readonly string[] = [
  "Nothing on the spindle, or a unit that can bear sudden stops; nothing loose on it.",
  "The vacuum line closed, by a plug or by a capsule.",
  "The hard-wired emergency stop pressed once today: drive and pump lose their power.",
];

/** What this test wants told beside the cautions of every run. */
const TEST_CAUTION =
  "The stops of this rig are what is being tested: count on none of them. Keep a hand at the hard-wired emergency stop and everything else away from the spindle.";

/** What is printed before anything may move. */
export function motionNotice(highestRpm: number): string {
  return [
    "Next the motor turns, both ways where it can, with many starts and stops, and the pump runs.",
    `The highest speed asked for is ${highestRpm} rpm; a rig that is not as it should be may go faster, or turn when it should not.`,
    "Before that:",
    ...BEFORE_TEST.map((step) => `  - ${step}`),
    "Cautions:",
    ...[TEST_CAUTION, ...CAUTIONS].map((caution) => `  - ${caution}`),
  ].join("\n");
}

const HANDS_NOTICE = [
  "What is left takes a hand at the rig: guard and stop input, leads of the index pickup and the vacuum sensor, reset.",
  "The guard is opened, the stop pressed, the index lead pulled and the board reset while the spindle turns slowly, to prove that the drive stops. Be ready for it to go on, or to run faster.",
  "Only with the hard-wired emergency stop under one hand, and with switches and plugs that can be reached away from the spindle; leave it to another way of proof where they cannot.",
].join("\n");

export class AtTerminal implements Person {
  private readonly operator: Operator;

  constructor(operator: Operator) {
    this.operator = operator;
  }

  /** True only after a typed "yes" in full. */
  agree(highestRpm: number): Promise<boolean> {
    this.operator.say(motionNotice(highestRpm));
    return this.operator.confirms(
      'Is all this done and the guard shut? Type "yes" to let the motor turn, anything else to leave it.',
    );
  }

  agrees(): Promise<boolean> {
    this.operator.say(HANDS_NOTICE);
    return this.operator.confirms(
      'Type "yes" to go through these parts, anything else to leave them out.',
    );
  }

  please(task: HandTask, withinS: number): void {
    this.operator.say(`At the rig, within ${withinS} s: ${HAND_TASKS[task]}`);
  }

  did(task: HandTask): Promise<boolean> {
    const question = `Is it done: ${task}? Type "yes" or "no".`;
    return this.operator.confirms(question);
  }
}
