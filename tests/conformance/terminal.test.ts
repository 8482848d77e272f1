// What is asked at a terminal, what is taken for a yes, and how the outcome is told.
import { PassThrough } from "node:stream";
import { expect, it } from "vitest";
import { CAUTIONS } from "../../core/cautions.ts";
import { Operator } from "../../server/calibration/operator.ts";
import { AtTerminal } from "../../server/conformance/atTerminal.ts";
import { rigTestReport, rigTestText } from "../../server/conformance/report.ts";
import { tryRig } from "./standIn.ts";

function terminal() {
  const input = new PassThrough();
  let said = "";
  const operator = new Operator(
    input,
    (text) => {
      said += text;
    },
    false,
  );
  return { input, operator, person: new AtTerminal(operator), said: () => said };
}

it.each([
  ["yes", true],
  ["Yes ", true],
  ["y", false],
  ["", false],
  ["yes please", false],
  ["no", false],
])("%j is taken for %s", async (typed, agreed) => {
  const { input, person } = terminal();
  input.write(`${typed}\n`);
  expect(await person.agree(1000)).toBe(agreed);
});

it("says every caution, the speed and the emergency stop before it asks", async () => {
  const { input, person, said } = terminal();
  const answer = person.agree(1234);
  const before = said();
  for (const caution of CAUTIONS) expect(before).toContain(caution);
  expect(before).toContain("1234 rpm");
  expect(before).toContain("hard-wired emergency stop pressed once today");
  input.end();
  expect(await answer).toBe(false);
});

it("takes an end of the input, and whoever leaves, for a no", async () => {
  const { operator, person } = terminal();
  const answer = person.did("open guard");
  operator.leave("gone");
  expect(await answer).toBe(false);
  expect(await person.agrees()).toBe(false);
});

it("tells each clause in a line, and below it what was seen and what was wanted", async () => {
  const outcome = await tryRig({
    rig: { inputs: "none" },
    out: () => (body) => [body, ...(body.startsWith("ok,") ? [body] : [])],
  });
  const lines = rigTestText("My rig", outcome).split("\n");
  expect(lines[0]).toBe("My rig (Stand-in rig 1), by the clauses of firmware-protocol.md:");
  const at = lines.findIndex((line) => line.startsWith("3.6"));
  expect(lines[at]).toMatch(/^3\.6 {3}BROKEN/);
  expect(lines[at + 1]).toMatch(
    /broken: nothing is answered .*: seen "ok,.*"; wanted one answer for each command/,
  );
  expect(lines.find((line) => line.startsWith("4.7"))).toBe(
    "4.7   not tested  it binds the host program, not the rig",
  );
  const counts = /^(\d+) hold, 1 broken, (\d+) not tested\.$/.exec(lines.at(-1) as string);
  expect(Number(counts?.[1]) + Number(counts?.[2]) + 1).toBe(54);
});

it("tells machines the same in one object", async () => {
  const outcome = await tryRig({}, { agrees: false });
  const report = rigTestReport("My rig", true, outcome);
  expect(report).toMatchObject({
    rig: "My rig",
    simulated: true,
    board: "Stand-in rig 1",
    protocolVersion: 1,
    motionAgreed: false,
    ended: null,
  });
  expect(report.clauses).toHaveLength(54);
  const first = report.clauses[0];
  expect(first).toMatchObject({ clause: "1.1", verdict: "holds" });
  expect(first?.checks[0]).toEqual({
    what: "a line of 241 bytes is dropped",
    verdict: "holds",
    text: "",
  });
});
