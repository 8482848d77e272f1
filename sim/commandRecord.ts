// What the board remembers of the last command, so that each is done once (clauses 4.2, 4.5 and 4.6).
import type { ParsedHostLine } from "../core/codec/hostLines.ts";

/** A command whose number could be read, `fields` where the rest of it could not. */
export type NumberedLine = Extract<ParsedHostLine, { readonly number: number }>;

export class CommandRecord {
  private number = 0;
  private text = "";
  private answer = "";

  /** The answer to a repeat or an old number; null for a command that is new. */
  settled(line: NumberedLine, text: string): string | null {
    // An ask starts anew whatever came before; doing it twice does no harm.
    if (line.type === "ask" || line.number > this.number) return null;
    if (line.number === this.number) {
      if (text === this.text) return this.answer;
      // A stop is refused for a lower number only (clause 4.4).
      if (line.type === "stop") return null;
    }
    return `no,${line.number},old-number`;
  }

  remember(number: number, text: string, answer: string): void {
    this.number = number;
    this.text = text;
    this.answer = answer;
  }
}
