// The first question to a rig (firmware-protocol.md, 3.1 and 4.2).
import type { Hello } from "../../core/codec/rigLines.ts";
import type { Ledger } from "./ledger.ts";
import type { Wire } from "./wire.ts";

/** A board may boot when its port is opened; booting takes some of them a few seconds. */
const HELLO_TIMEOUT_MS = 6000;
const ASK_EVERY_MS = 250;

/** Asks until a hello comes. Null where none came that the rest of a test could go by. */
export async function askHello(
  wire: Wire,
  ledger: Ledger,
): Promise<{ hello: Hello; number: number } | null> {
  const startMs = wire.nowMs;
  let number = 0;
  while (wire.nowMs - startMs < HELLO_TIMEOUT_MS) {
    number++;
    const sent = wire.send(`ask,${number}`);
    const asked = `hello,${number},`;
    const heard = await wire.until(
      ({ text }) => text.startsWith(asked),
      ASK_EVERY_MS,
      sent.heardBefore,
    );
    if (heard === null) continue;
    const { line, fault } = heard;
    if (line?.type !== "hello" || fault?.what === "hello: VERSION") {
      const wanted = fault?.wanted ?? "MAXRPM above MINRPM, and VACMAX not below VACMIN";
      ledger.broken(
        fault?.clause ?? "3.1",
        fault?.what ?? "hello: ranges",
        `"${heard.text}"`,
        wanted,
      );
      return null;
    }
    ledger.holds("3.1", "ask is answered by a hello of the form given");
    return { hello: line, number };
  }
  const other = wire.heard.findLast(({ text }) => text.startsWith("hello,"));
  const seen = other === undefined ? "no hello" : `"${other.text}"`;
  ledger.broken(
    "3.1",
    "ask is answered by hello",
    seen,
    `hello,${number},… in answer to "ask,${number}"`,
  );
  return null;
}
