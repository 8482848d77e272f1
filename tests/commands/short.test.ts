// Short commands, within this process: what they print, and their exit statuses.
import { describe, expect, it, vi } from "vitest";
import { main } from "../../server/commands/main.ts";
import { example } from "../endToEnd/process.ts";

async function here(...args: string[]): Promise<{ status: number; out: string }> {
  let out = "";
  const said = vi.spyOn(process.stdout, "write").mockImplementation((text) => {
    out += text;
    return true;
  });
  try {
    return { status: await main(["node", "bobweight", ...args]), out };
  } finally {
    said.mockRestore();
  }
}

describe("help, schemas and checks", () => {
  it.each([
    "serve",
    "measure",
    "batch",
    "tolerance",
    "by-hand",
    "sheet",
    "engine",
    "simulate",
    "rigs",
    "springs",
    "schema",
    "check",
    "jobs",
    "backup",
    "restore",
  ])("%s --help explains itself", async (command) => {
    const { status, out } = await here(command, "--help");
    expect(status).toBe(0);
    expect(out).toContain(`bobweight ${command}`);
  });

  it("prints a schema for each kind of file", async () => {
    for (const kind of ["unit", "scenario", "plan", "rig"]) {
      const { out } = await here("schema", kind);
      expect(JSON.parse(out)).toHaveProperty("$schema");
    }
  });

  it("finds every example good", async () => {
    const names = [
      "everyday.unit",
      "tall-eight.unit",
      "two-set-eight.unit",
      "quiet-six.unit",
      "short.plan",
    ];
    const scenarios = ["healthy", "stuck", "torn-diaphragm", "light-spring"];
    const rigs = ["stand-in-36.rig", "stand-in-index.rig"];
    const all = [...names, ...scenarios.map((name) => `${name}.scenario`), ...rigs];
    const { status, out } = await here("check", ...all.map((name) => example(`${name}.json`)));
    expect(out.trimEnd().split("\n")).toHaveLength(all.length);
    expect(status).toBe(0);
  });

  it("lists the stand-in rig among the rigs", async () => {
    expect((await here("rigs")).out).toContain("stand-in");
  });
});
