// Questions to worker threads: answers in order whatever takes how long, few held, and deaths survived.
import { describe, expect, it } from "vitest";
import { answersInOrder, type Threads } from "../../server/threads.ts";

interface Question {
  readonly number: number;
  readonly waitMs: number;
  readonly dies?: boolean;
}

/** A thread that answers with the question's number after its time, or dies of it. */
const WORKER = new URL(
  `data:text/javascript,${encodeURIComponent(`
import { parentPort } from "node:worker_threads";
parentPort.on("message", ({ number, waitMs, dies }) => {
  if (dies) throw new Error("died of " + number);
  setTimeout(() => parentPort.postMessage(number), waitMs);
});`)}`,
);

const threads = (atOnce: number, ahead = 8): Threads<Question, number | string> => ({
  worker: WORKER,
  atOnce,
  ahead,
  died: (_, why) => why,
});

async function all<A>(answers: AsyncIterable<A>): Promise<A[]> {
  const kept: A[] = [];
  for await (const answer of answers) kept.push(answer);
  return kept;
}

describe("answers in order", () => {
  it.each([1, 2, 5])("come in the order of the questions from %i threads", async (atOnce) => {
    const questions = Array.from({ length: 20 }, (_, number) => ({
      number,
      waitMs: number % 4 === 0 ? 30 : 0,
    }));
    const came: (number | string)[] = [];
    const answers = await all(
      answersInOrder(questions, { ...threads(atOnce), onAnswer: (one) => came.push(one) }),
    );
    expect(answers).toEqual(questions.map(({ number }) => number));
    // The test is of nothing if they come in order by themselves.
    if (atOnce > 1) expect(came).not.toEqual(answers);
  });

  it("never have more questions out than allowed from the oldest on", async () => {
    let asked = 0;
    let taken = 0;
    let most = 0;
    const questions = (function* () {
      for (let number = 0; number < 40; number++) {
        asked++;
        most = Math.max(most, asked - taken);
        yield { number, waitMs: number === 0 ? 150 : 0 };
      }
    })();
    for await (const _ of answersInOrder(questions, threads(3, 6))) taken++;
    expect(taken).toBe(40);
    expect(most).toBe(6);
  });

  it("go on after a thread died of a question", async () => {
    const questions = [0, 1, 2, 3, 4].map((number) => ({
      number,
      waitMs: 0,
      dies: number === 1 || number === 4,
    }));
    const answers = await all(answersInOrder(questions, threads(2)));
    expect(answers).toEqual([0, "died of 1", 2, 3, "died of 4"]);
  });

  it("are none without questions, and end where their reader ends", async () => {
    expect(await all(answersInOrder([], threads(2)))).toEqual([]);
    const endless = (function* () {
      for (let number = 0; ; number++) yield { number, waitMs: 0 };
    })();
    for await (const answer of answersInOrder(endless, threads(2))) if (answer === 10) break;
  });
});
