// The whole tool over a real pseudo-terminal: stand-in rig and measurement in processes of their own, in real time.
// Three rigs at once: each has its own terminal, and they wait most of the while.
import type { ChildProcess } from "node:child_process";
import { afterAll, describe, expect, it } from "vitest";
import { example, finished, firstLine, freshFolder, run, start } from "./process.ts";

const children: ChildProcess[] = [];

async function simulate(name: string): Promise<{ path: string; child: ChildProcess }> {
  const child = start(["simulate", "--scenario", example(`${name}.scenario.json`), "--pty"]);
  children.push(child);
  return { path: await firstLine(child), child };
}

function measureArgs(path: string): string[] {
  const unit = ["--unit", example("everyday.unit.json"), "--plan", example("short.plan.json")];
  return ["measure", "--rig", path, ...unit, "--json", "--data", freshFolder()];
}

afterAll(() => {
  for (const child of children.splice(0)) child.kill("SIGTERM");
});

describe.skipIf(process.platform === "win32").concurrent("over a pseudo-terminal", () => {
  it("measures a sound unit twice on the same terminal, without a bad line", async () => {
    const { path } = await simulate("healthy");
    for (let i = 0; i < 2; i++) {
      const { status, out, err } = await run(...measureArgs(path));
      expect(err).not.toContain("RIG_");
      expect(status).toBe(0);
      const report = JSON.parse(out);
      expect(report).toMatchObject({ verdict: "within", ending: "completed", simulated: false });
      expect(report.link).toMatchObject({ linesBad: 0, turnsSetAside: 0, turnsMissing: 0 });
    }
  });

  it("stops on interrupt, and says so", async () => {
    const { path } = await simulate("healthy");
    const child = start(measureArgs(path));
    const done = finished(child);
    await new Promise<void>((resolve) => {
      child.stderr?.on("data", (chunk) => {
        if (String(chunk).includes("hold")) resolve();
      });
    });
    child.kill("SIGINT");
    const { status, out } = await done;
    expect(status).toBe(75);
    expect(JSON.parse(out)).toMatchObject({
      ending: "stopped",
      reason: { code: "STOPPED_BY_USER" },
    });
  });

  it("lets the rig be ended though its host died and nobody reads any more", async () => {
    const { path, child: rig } = await simulate("healthy");
    const child = start(measureArgs(path));
    const done = finished(child);
    await new Promise<void>((resolve) => {
      child.stderr?.on("data", (chunk) => {
        if (String(chunk).includes("rpm")) resolve();
      });
    });
    child.kill("SIGKILL");
    await done;
    // By now the terminal has no room left for what the rig says.
    await new Promise((resolve) => setTimeout(resolve, 5000));
    const ended = finished(rig);
    rig.kill("SIGTERM");
    expect((await ended).status).toBe(0);
  });

  it("ends as link lost when the rig's cable is pulled", async () => {
    const { path, child: rig } = await simulate("healthy");
    const child = start(measureArgs(path));
    const done = finished(child);
    await new Promise<void>((resolve) => {
      child.stderr?.on("data", (chunk) => {
        if (String(chunk).includes("hold")) resolve();
      });
    });
    rig.kill("SIGKILL");
    const { status, out } = await done;
    expect(status).toBe(75);
    expect(JSON.parse(out)).toMatchObject({ ending: "link lost", reason: { code: "LINK_LOST" } });
  });
});
