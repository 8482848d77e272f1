// Ways to change one thing in the bytes between a stand-in rig and the host.
import { asciiBytes, asciiText } from "../../core/codec/framing.ts";
import type { Flaw } from "./standIn.ts";

export interface Broken {
  readonly what: string;
  /** What the test has to name, and nothing else may be named. */
  readonly clauses: readonly string[];
  readonly flaw: Flaw;
  readonly speedMaxRpm?: number;
  /** Nobody is there to lay hands on it. */
  readonly alone?: true;
}

export const WRAP = 2 ** 32;

/** Changes the fields of lines of one type; `change` may give null to drop the line. */
export function fields(
  type: string,
  change: (given: string[], count: number) => readonly string[] | null,
): NonNullable<Flaw["out"]> {
  return () => {
    let count = 0;
    return (body) => {
      const [word, ...given] = body.split(",");
      if (word !== type) return [body];
      const changed = change(given, count++);
      return changed === null ? [] : [[word, ...changed].join(",")];
    };
  };
}

export const set = (type: string, at: number, text: string): NonNullable<Flaw["out"]> =>
  fields(type, (given) => given.with(at, text));

/** Drops lines of one type and counts the rest anew, so that no sequence shows it. */
export function rarer(
  type: string,
  isKept: (count: number) => boolean,
  flagsFrom: number,
): NonNullable<Flaw["out"]> {
  let sequence = 0;
  let flags = "";
  return fields(type, (given, count) => {
    const now = given.slice(flagsFrom).join();
    const isNews = type === "state" && now !== flags;
    flags = now;
    return isKept(count) || isNews ? given.with(0, String(sequence++)) : null;
  });
}

export function changedTicks(change: (tick: number) => number): NonNullable<Flaw["out"]> {
  return () => (body) => {
    const given = body.split(",");
    const at = { rev: 2, vac: 2, state: 2 }[given[0] as string];
    return [at === undefined ? body : given.with(at, String(change(Number(given[at])))).join()];
  };
}

/** Changes whole lines from the host, CR and all; null drops a line. */
export function heard(
  change: (line: string, say: (body: string) => void) => string | null,
): NonNullable<Flaw["in"]> {
  return ({ receive }, say) => {
    let begun = "";
    return (bytes) => {
      const lines = (begun + asciiText(bytes)).split("\n");
      begun = lines.pop() as string;
      for (const line of lines) {
        const changed = change(line, say);
        if (changed !== null) receive(Uint8Array.from(`${changed}\n`, (one) => one.charCodeAt(0)));
      }
    };
  };
}

export const bodyOf = (line: string) => line.slice(0, line.lastIndexOf("*"));
export const numberOf = (line: string) => bodyOf(line).split(",")[1];
export const everySo = (n: number, count: number) => count % n === n - 1;

/** Changes every fiftieth of the vac lines, of which none is waited for alone. */
export function vacNowAndThen(change: (line: string) => string): NonNullable<Flaw["outBytes"]> {
  return (_, pass) => {
    let begun = "";
    let count = 0;
    return (bytes) => {
      const lines = (begun + asciiText(bytes)).split("\n");
      begun = lines.pop() as string;
      for (const line of lines) {
        const isChanged = line.startsWith("vac,") && everySo(50, count++);
        pass(asciiBytes(`${isChanged ? change(line) : line}\n`));
      }
    };
  };
}
