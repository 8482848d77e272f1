// The sound stand-in holds every clause, however it is equipped; and the test leaves every rig stopped.
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { asciiBytes, asciiText } from "../../core/codec/framing.ts";
import { CLAUSES } from "../../server/conformance/clauses.ts";
import { verdictOf } from "../../server/conformance/ledger.ts";
import { type Tried, tryRig } from "./standIn.ts";

const PAGE = readFileSync(new URL("../../firmware-protocol.md", import.meta.url), "utf8");

/** What no test from outside can prove; `clauses.ts` says why for each. */
const NEVER_TESTED = [
  "1.8",
  "2.3",
  "3.2.2",
  "4.7",
  "4.9",
  "6.4",
  "6.8",
  "6.9",
  "7.1",
  "7.2",
  "7.3",
];

function clausesThat(verdict: string, { findings }: Tried): string[] {
  return CLAUSES.map(([clause]) => clause).filter(
    (clause) => verdictOf(findings.filter((one) => one.clause === clause)) === verdict,
  );
}

/** Every number at the beginning of a paragraph, a heading of part 3 or a row of part 5; 5.1 begins two. */
function clausesOfPage(): string[] {
  const headings = [...PAGE.matchAll(/^(?:### |\| )?(\d\.\d+(?:\.\d)?) /gm)];
  return [...new Set(headings.map(([, number]) => number as string))];
}

describe("the clauses", () => {
  it("are those of the page, in its order", () => {
    expect(CLAUSES.map(([clause]) => clause)).toEqual(clausesOfPage());
  });
});

describe("a sound rig", () => {
  it("holds all that can be tested, with a person there", async () => {
    const tried = await tryRig({}, { speedMaxRpm: 4500 });
    expect(clausesThat("broken", tried)).toEqual([]);
    // With a vacuum sensor, both directions and turns that fit into one line, three more do not come up.
    const notTested = clausesThat("not tested", tried);
    expect(notTested).toEqual([...NEVER_TESTED, "3.2.3", "5.7", "5.10"].sort(byPage));
    expect(tried.ended).toBeNull();
    expect(
      tried.findings
        .filter(({ verdict }) => verdict === "not tested")
        .every(({ text }) => text !== ""),
    ).toBe(true);
  });

  it.each([
    ["one direction", { directions: "ccw" }, {}, ["5.7"]],
    ["no vacuum sensor", { vacuumMaxPa: 0 }, {}, ["5.10"]],
    ["no safety inputs", { inputs: "none" }, {}, []],
    ["an index only", { pickupEdges: 1 }, {}, []],
    ["360 pickup edges", { pickupEdges: 360 }, {}, []],
    ["a slow link", { linkBytesPerS: 5000 }, {}, ["3.2.5"]],
    ["a slow clock", { tickHz: 100_000 }, {}, []],
    ["a fast clock and twelve lobes", { tickHz: 50_000_000 }, { lobes: 12 }, ["3.2.3"]],
    ["a clock that is off by its tolerance", { tickPpm: 20_000, tickErrorPpm: 20_000 }, {}, []],
    ["a counter about to wrap", { firstTick: 2 ** 32 - 30_000_000 }, {}, ["2.1"]],
    ["noise", { sensorNoisePa: 100, eventJitterUs: 20, indexJitterUs: 2 }, {}, []],
    ["lost edges", { lostShare: 0.1 }, {}, ["3.3"]],
    ["a high lowest speed", { speedMinRpm: 600 }, {}, []],
    ["a low highest speed", { speedMaxRpm: 800 }, {}, ["6.5"]],
  ] as const)("with %s breaks nothing", async (_, rig, unit, tested) => {
    const tried = await tryRig({ rig, unit });
    const broken = tried.findings.filter(({ verdict }) => verdict === "broken");
    expect(broken).toEqual([]);
    expect(clausesThat("holds", tried)).toEqual(expect.arrayContaining([...tested]));
  });

  it("breaks nothing where its port was opened in the middle of a line, or while it boots", async () => {
    const tried = await tryRig({
      outBytes: (_, pass) => {
        let isBegun = false;
        return (bytes) => {
          if (!isBegun)
            pass(
              Uint8Array.from("vel 3\xfe\r\nte,17,400,0,0,none,0,1,0,none*0\n", (one) =>
                one.charCodeAt(0),
              ),
            );
          isBegun = true;
          pass(bytes);
        };
      },
    });
    expect(tried.broken).toEqual([]);
  });

  it("breaks nothing where a boot leaves a line cut short", async () => {
    const tried = await tryRig({
      outBytes: (_, pass) => {
        let boots = 0;
        return (bytes) => {
          if (asciiText(bytes).startsWith("hello,0,") && ++boots === 2)
            pass(asciiBytes("state,7,12"));
          pass(bytes);
        };
      },
    });
    expect(tried.broken).toEqual([]);
    expect(tried.findings.find(({ what }) => what === "a hello comes after boot")?.verdict).toBe(
      "holds",
    );
  });

  it("with nobody there leaves out what takes a hand, and says so", async () => {
    const tried = await tryRig({}, { alone: true });
    expect(tried.broken).toEqual([]);
    const notTested = clausesThat("not tested", tried);
    for (const clause of ["5.3", "5.4", "6.2", "6.6", "6.7"]) expect(notTested).toContain(clause);
    expect(tried.findings.find(({ clause }) => clause === "6.2")?.text).toContain(
      "nobody is there",
    );
  });
});

function byPage(a: string, b: string): number {
  const place = (clause: string) => CLAUSES.findIndex(([one]) => one === clause);
  return place(a) - place(b);
}
