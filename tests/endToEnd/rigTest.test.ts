// A rig held against the protocol by the built program: over a pseudo-terminal in real time, and as it is started by people and scripts.
import { type ChildProcess, spawn } from "node:child_process";
import { afterAll, describe, expect, it } from "vitest";
import { CLAUSES } from "../../server/conformance/clauses.ts";
import { example, finished, firstLine, PROGRAM, run, start } from "./process.ts";

const children: ChildProcess[] = [];

afterAll(() => {
  for (const child of children.splice(0)) child.kill("SIGTERM");
});

interface Report {
  readonly board: string;
  readonly simulated: boolean;
  readonly motionAgreed: boolean;
  readonly clauses: readonly { readonly clause: string; readonly verdict: string }[];
}

const broken = ({ clauses }: Report) => clauses.filter(({ verdict }) => verdict === "broken");
const holding = ({ clauses }: Report) => clauses.filter(({ verdict }) => verdict === "holds");

describe.skipIf(process.platform === "win32")("over a pseudo-terminal", () => {
  it("the stand-in rig holds every clause that needs no hand", async () => {
    const child = start(["simulate", "--scenario", example("healthy.scenario.json"), "--pty"]);
    children.push(child);
    const path = await firstLine(child);
    const { status, out, err } = await run("rigs", "test", path, "--motor-may-turn", "--json");
    const report: Report = JSON.parse(out);
    expect(broken(report)).toEqual([]);
    expect(status).toBe(0);
    expect(report).toMatchObject({ board: "Stand-in rig 1", simulated: false, motionAgreed: true });
    expect(report.clauses.map(({ clause }) => clause)).toEqual(CLAUSES.map(([clause]) => clause));
    expect(holding(report).length).toBeGreaterThanOrEqual(34);
    expect(err.indexOf("hard-wired emergency stop")).toBeLessThan(
      err.indexOf("Agreed to beforehand"),
    );
    expect(err).not.toContain("did not confirm");
  });

  it.each([
    ["yes", 0, true],
    ["no", 2, false],
  ])("asks at a terminal, and goes by a typed %s", async (typed, status, agreed) => {
    const pty = await import("node-pty");
    const args = [PROGRAM, "rigs", "test", "stand-in", "--fast"];
    const terminal = pty.spawn(process.execPath, args, { cols: 200, rows: 50 });
    let shown = "";
    const ended = new Promise<number>((resolve) => {
      terminal.onExit(({ exitCode }) => resolve(exitCode));
    });
    let isTyped = false;
    terminal.onData((text) => {
      shown += text;
      if (isTyped || !shown.includes('Type "yes" to let the motor turn')) return;
      isTyped = true;
      // Nothing that could move anything is done before the answer.
      expect(shown).not.toContain("arming and tokens …");
      terminal.write(`${typed}\r`);
    });
    expect(await ended).toBe(status);
    expect(shown.includes("arming and tokens …")).toBe(agreed);
    expect(shown).toMatch(/^3\.6 +holds/m);
  });
});

it("without a terminal to ask at nothing moves, though a yes is piped in", async () => {
  const child = spawn(process.execPath, [PROGRAM, "rigs", "test", "stand-in", "--fast", "--json"]);
  child.stdin.end("yes\nyes\n");
  const { status, out, err } = await finished(child);
  expect(status).toBe(2);
  const report: Report = JSON.parse(out);
  expect(report).toMatchObject({ simulated: true, motionAgreed: false });
  expect(err).toContain("it stays at rest");
  expect(err).not.toContain("arming and tokens …");
});

it("an interrupt stops the rig, and what was found out is told", async () => {
  const child = start(["rigs", "test", "stand-in", "--motor-may-turn", "--json"]);
  child.stderr?.on("data", (chunk) => {
    if (String(chunk).includes("arming and tokens …")) child.kill("SIGINT");
  });
  const { status, out, err } = await finished(child);
  expect(status).toBe(75);
  expect(err).toContain("STOPPED_BY_USER: The test was stopped.");
  expect(err).not.toContain("did not confirm");
  expect(JSON.parse(out)).toMatchObject({ ended: { code: "STOPPED_BY_USER" } });
});

it("has a help, and statuses for what cannot be tested", async () => {
  const help = await run("rigs", "test", "--help");
  expect(help.status).toBe(0);
  expect(help.out).toContain("--motor-may-turn");
  expect(help.out).toContain("no emergency stop");
  expect((await run("rigs", "test")).status).toBe(64);
  expect((await run("rigs", "test", "/dev/ttyNowhere", "--fast")).status).toBe(64);
  expect((await run("rigs", "test", "/dev/ttyNowhere")).status).toBe(69);
  expect((await run("rigs", "test", "nowhere.rig.json")).status).toBe(65);
});
