// The person at the bench: is told what to do on standard error, and answers on standard input.
import { createInterface, type Interface } from "node:readline";
import { BobweightError } from "../../core/errors.ts";

interface Waiter {
  readonly resolve: (line: string) => void;
  readonly reject: (error: BobweightError) => void;
}

export class Operator {
  private readonly lines: Interface;
  private readonly write: (text: string) => void;
  private readonly agreesAlready: boolean;
  private readonly waiting: string[] = [];
  private waiter: Waiter | null = null;
  private gone: BobweightError | null = null;

  /** `agreesAlready`: for the stand-in rig only, where nothing can hurt anybody. */
  constructor(input: NodeJS.ReadableStream, write: (text: string) => void, agreesAlready: boolean) {
    this.write = write;
    this.agreesAlready = agreesAlready;
    this.lines = createInterface({ input });
    this.lines.on("line", (line) => {
      const { waiter } = this;
      this.waiter = null;
      if (waiter === null) this.waiting.push(line);
      else waiter.resolve(line);
    });
    this.lines.on("close", () => this.leave("The input ended before the check did."));
  }

  say(text: string): void {
    this.write(`${text}\n`);
  }

  /** Numbered steps to do by hand. */
  steps(title: string, steps: readonly string[]): void {
    this.say(title);
    steps.forEach((step, i) => {
      this.say(`  ${i + 1}. ${step}`);
    });
  }

  /** @throws STOPPED_BY_USER unless the answer is "yes" in full */
  async agree(question: string): Promise<void> {
    this.say(`${question} Type "yes" to go on, anything else to stop.`);
    if (this.agreesAlready) {
      this.say("yes (--yes)");
      return;
    }
    if (!(await this.saysYes())) {
      throw new BobweightError("STOPPED_BY_USER", "The check was not agreed to.");
    }
  }

  /** Whether the next answer is "yes" in full; false too where the input ends or the operator has left. */
  async confirms(question: string): Promise<boolean> {
    this.say(question);
    return this.saysYes().catch(() => false);
  }

  /** Asks until a number comes. @throws STOPPED_BY_USER where the input ends */
  async number(question: string): Promise<number> {
    for (;;) {
      this.say(question);
      const text = (await this.answer()).trim().replace(",", ".");
      const value = Number(text);
      if (text !== "" && Number.isFinite(value)) return value;
      this.say(`"${text}" is no number; type figures only, without a unit.`);
    }
  }

  /** Every question from now on, and the one that waits, ends with STOPPED_BY_USER. */
  leave(what: string): void {
    if (this.gone !== null) return;
    this.gone = new BobweightError("STOPPED_BY_USER", what);
    this.waiter?.reject(this.gone);
    this.waiter = null;
  }

  close(): void {
    this.lines.close();
  }

  private async saysYes(): Promise<boolean> {
    return (await this.answer()).trim().toLowerCase() === "yes";
  }

  private answer(): Promise<string> {
    const line = this.waiting.shift();
    if (line !== undefined) return Promise.resolve(line);
    if (this.gone !== null) return Promise.reject(this.gone);
    return new Promise((resolve, reject) => {
      this.waiter = { resolve, reject };
    });
  }
}
