// Bar: whatever is sent to the running server is answered, or refused with code and remedy; it lives, and nothing moves.
import { type Bar, beside, type Figure } from "../../accuracy/bar.ts";
import { Draw } from "../../accuracy/draw.ts";
import { faultOf, goodKnocks, hostileKnock, knocked, prepared } from "../hostile/doors.ts";
import { mangled } from "../hostile/mangle.ts";
import { type Listened, listening, MOVES, START } from "../wire/listened.ts";

/** Fewer than the server takes at once from one address, so that none is refused for being one too many. */
const REQUESTS_A_JOB = 400;
const MESSAGES_A_JOB = 60;

const ANSWER_MS_MAX = 5000;
/** A frame beyond the limit ends the connection with this code (RFC 6455), which a browser tells. */
const TOO_BIG = 1009;

export interface DoorsResult {
  readonly inputs: number;
  readonly refused: number;
  /** What was answered as it must not be; a sentence each. */
  readonly faults: readonly string[];
  readonly moves: readonly string[];
  readonly lives: boolean;
}

async function job(index: number): Promise<DoorsResult> {
  return listening((bench) => besieged(bench, index, REQUESTS_A_JOB, MESSAGES_A_JOB));
}

/** So many hostile requests and messages to a running server. */
export async function besieged(
  bench: Listened,
  index: number,
  requests: number,
  messages: number,
): Promise<DoorsResult> {
  const draw = new Draw("doors", index);
  const faults: string[] = [];
  let refused = 0;
  const good = goodKnocks(await prepared(bench));
  for (let i = 0; i < requests; i++) {
    const knock = hostileKnock(draw, draw.oneOf(good));
    const answer = await knocked(bench, knock).catch((error: Error) => error);
    const fault = answer instanceof Error ? answer.message : faultOf(answer);
    if (fault !== null) faults.push(`${index}/${i}, ${knock.method} ${knock.path}: ${fault}`);
    else if (!(answer instanceof Error) && answer.status >= 400) refused++;
  }
  // For a rig that is not there: what is changed by lot can still be good.
  const start = JSON.stringify({ ...START, rigId: "nobody" });
  for (let i = 0; i < messages; i++) {
    const fault = await faultOfMessage(bench, mangled(draw, start));
    if (fault === null) refused++;
    else faults.push(`${index}, message ${i}: ${fault}`);
  }
  const alive = await knocked(bench, { method: "GET", path: "/", type: "", body: "" }).then(
    ({ status }) => status === 200,
    () => false,
  );
  const moves = bench.heard.filter(({ type }) => MOVES.has(type)).map(({ type }) => type);
  const lives = alive && bench.child.exitCode === null;
  return { inputs: requests + messages, refused, faults, moves, lives };
}

/**
 * A message on the live stream, on a connection of its own: one that says too much is ended.
 * Gives what is wrong with the answer; null: it is refused in words, or ended as too much.
 */
async function faultOfMessage(bench: Listened, message: string): Promise<string | null> {
  const page = await bench.connect();
  try {
    const answer = new Promise<string | null>((resolve) => {
      page.on("message", (data) => {
        const body = String(data);
        if (body.startsWith('{"type":"refused"')) resolve(faultOf({ status: 400, body }));
      });
      page.on("close", (code) => resolve(code === TOO_BIG ? null : `closed with ${code}`));
      setTimeout(() => resolve("no answer"), ANSWER_MS_MAX).unref();
    });
    page.send(message);
    return await answer;
  } finally {
    page.terminate();
  }
}

function figures(results: readonly DoorsResult[]): readonly Figure[] {
  const sum = (of: (result: DoorsResult) => number) =>
    results.reduce((total, result) => total + of(result), 0);
  const inputs = sum((result) => result.inputs);
  const faults = results.flatMap((result) => result.faults);
  const nought = (what: string, measured: number): Figure => ({
    ...{ what, measured: String(measured), limit: "0", count: inputs },
    met: inputs > 0 && measured === 0,
  });
  return [
    nought("requests and messages neither answered nor refused in words", faults.length),
    nought(
      "commands to move that came of them",
      sum(({ moves }) => moves.length),
    ),
    nought(
      "servers that died of them",
      sum(({ lives }) => (lives ? 0 : 1)),
    ),
    beside("refused in words", String(sum(({ refused }) => refused)), inputs),
    ...faults.slice(0, 20).map((fault) => beside("for example", fault.slice(0, 400), 1)),
  ];
}

export const doors: Bar<DoorsResult> = {
  name: "doors",
  counts: { short: 10, long: 100 },
  job,
  figures,
};
