// Any order of commands and mishaps: the motor turns only for one controller, armed, alive and behind a shut guard.
import fc from "fast-check";
import { expect, it } from "vitest";
import { encodeLine } from "../../core/codec/framing.ts";
import type { BytePort } from "../../server/link/bytePort.ts";
import { RigLink } from "../../server/link/rigLink.ts";
import { StandInBytePort } from "../../server/link/standInPort.ts";
import { VirtualScheduler } from "../../server/schedulers.ts";
import { parseScenario } from "../../sim/scenario.ts";
import { Cable } from "../../storm/link/cable.ts";
import { Witness } from "../../storm/link/witness.ts";

const SCENARIO = {
  mechanism: {
    speedTable: [
      [0, 0],
      [5000, 10],
    ],
  },
};
/** After so long without a stay-alive the rig is at rest (clause 6.1). */
const EXPIRED_MS = 500;
const NEVER_IN_FORCE = "00000000";

/** The rig on a cable that can be pulled, and the program at the other end. */
class Bench {
  readonly scheduler = new VirtualScheduler();
  readonly witness = new Witness();
  readonly rig: BytePort;
  readonly cable: Cable;
  /** All tokens that were ever given, the latest last. */
  readonly tokens: string[] = [];
  link: RigLink | null = null;
  isFresh = true;
  /** Of what another program writes: ahead of ours. */
  private strangeNumber = 4_000_000_000;

  constructor() {
    const scenario = parseScenario(SCENARIO, "scenario");
    this.rig = new StandInBytePort(scenario, this.scheduler, 0, this.witness.makeBoard);
    this.cable = new Cable(this.rig, this.scheduler, 1, []);
    this.cable.onRigLine = (body) => this.witness.rigLine(body);
  }

  /** Null where it was refused, which is an error of the program's own. */
  ask<T>(action: (link: RigLink) => Promise<T>): Promise<T | null> {
    const { link } = this;
    if (link === null) return Promise.resolve(null);
    const answer = action(link).catch((error) => {
      expect(error.code).toMatch(/^(RIG|LINK)_/);
      return null;
    });
    return this.scheduler.run(answer);
  }

  pass(ms: number): Promise<void> {
    return this.scheduler.run(new Promise((resolve) => this.scheduler.after(ms, resolve)));
  }

  async connect(): Promise<boolean> {
    await this.link?.close();
    this.link = new RigLink(this.cable.port(this.cable.portName), this.scheduler, {
      onTurn: () => {},
      onVacuum: () => {},
      onState: () => {},
      onRaw: () => {},
      onLost: () => {},
    });
    return (await this.ask((link) => link.connect())) !== null;
  }

  strange(type: string, fields = ""): void {
    this.rig.write(encodeLine(`${type},${this.strangeNumber++}${fields}`));
  }
}

/** What has to be so. Where it cannot be told without knowing the rig, it is what may be. */
interface Model {
  isPluggedIn: boolean;
  isLinked: boolean;
  mayBeArmed: boolean;
  mayBeLatched: boolean;
  sendsAlive: boolean;
  silentMs: number;
  isGuardShut: boolean;
  isPressed: boolean;
  /** Another program's numbers are ahead of ours, so that ours are refused until the next hello. */
  isUsurped: boolean;
}

type Act = (model: Model, bench: Bench) => Promise<void>;

/** An act, then some time, then all that must hold. */
class Step implements fc.AsyncCommand<Model, Bench> {
  private readonly name: string;
  private readonly act: Act;
  private readonly thenMs: number;

  constructor(name: string, thenMs: number, act: Act) {
    this.name = name;
    this.thenMs = thenMs;
    this.act = act;
  }

  check(): boolean {
    return true;
  }

  async run(model: Model, bench: Bench): Promise<void> {
    const fromMs = bench.scheduler.nowMs();
    await this.act(model, bench);
    await bench.pass(this.thenMs);
    const isHeard = model.sendsAlive && model.isLinked && bench.isFresh;
    model.silentMs = isHeard ? 0 : model.silentMs + this.thenMs;
    if (model.silentMs >= EXPIRED_MS) model.mayBeArmed = false;
    expect(bench.scheduler.nowMs() - fromMs).toBeLessThan(10_000);
    expect(bench.witness.unsafe).toEqual([]);
    if (!model.mayBeArmed) expect(bench.witness.notAtRest).toBeNull();
  }

  toString(): string {
    return `${this.name}, ${this.thenMs} ms`;
  }
}

const isSafe = ({ isGuardShut, isPressed }: Model) => isGuardShut && !isPressed;

function disarmed(model: Model): void {
  model.mayBeArmed = false;
  model.sendsAlive = false;
}

const connect: Act = async (model, bench) => {
  model.isLinked = await bench.connect();
  expect(model.isLinked).toBe(model.isPluggedIn);
  model.sendsAlive = false;
  if (!model.isLinked) return;
  disarmed(model);
  model.isUsurped = false;
  if (isSafe(model)) model.mayBeLatched = false;
};

const arm: Act = async (model, bench) => {
  const token = await bench.ask((link) => link.command({ type: "arm" }));
  const mayArm = model.isLinked && isSafe(model) && !model.isUsurped;
  if (!mayArm) expect(token).toBeNull();
  if (mayArm && !model.mayBeLatched) expect(token).not.toBeNull();
  if (token === null) return;
  bench.tokens.push(token);
  bench.link?.keepAlive(token, () => bench.isFresh);
  model.mayBeArmed = true;
  model.sendsAlive = true;
  model.silentMs = 0;
};

/** With the token given last, an earlier one, or one that never was. */
const drive =
  (which: "mine" | "old" | "never", speedRpm: number): Act =>
  async (model, bench) => {
    const place = which === "mine" ? -1 : -2;
    const token = which === "never" ? NEVER_IN_FORCE : (bench.tokens.at(place) ?? NEVER_IN_FORCE);
    const direction = "cw";
    const command = { type: "speed", token, direction, speedRpm, rampRpmPerS: 500 } as const;
    let isTaken = false;
    await bench.ask(async (link) => {
      await link.command(command);
      isTaken = true;
    });
    if (which !== "mine" || !model.mayBeArmed || model.isUsurped) expect(isTaken).toBe(false);
    if (!isTaken) return;
    // The board drives from its next step on.
    await bench.pass(10);
    expect(bench.witness.isDriven).toBe(true);
  };

const pump: Act = async (_, bench) => {
  const token = bench.tokens.at(-1) ?? NEVER_IN_FORCE;
  await bench.ask((link) => link.command({ type: "vacuum", token, vacuumPa: 30_000 }));
};

const stop: Act = async (model, bench) => {
  await bench.ask((link) => link.stop());
  model.sendsAlive = false;
  if (!model.isLinked || model.isUsurped) return;
  model.mayBeArmed = false;
  if (isSafe(model)) model.mayBeLatched = false;
};

const guard =
  (isShut: boolean): Act =>
  async (model, bench) => {
    bench.witness.setGuard(isShut);
    model.isGuardShut = isShut;
    if (!isShut) unsafe(model);
    await bench.pass(10);
  };

const stopInput =
  (isPressed: boolean): Act =>
  async (model, bench) => {
    bench.witness.setStopInput(isPressed);
    model.isPressed = isPressed;
    if (isPressed) unsafe(model);
    await bench.pass(10);
  };

function unsafe(model: Model): void {
  model.mayBeLatched = true;
  model.mayBeArmed = false;
}

const jam =
  (isJammed: boolean): Act =>
  async (model, bench) => {
    bench.witness.setJam(isJammed);
    model.mayBeLatched = true;
  };

const pull: Act = async (model, bench) => {
  bench.cable.pull();
  model.isPluggedIn = false;
  model.isLinked = false;
  model.sendsAlive = false;
};

const plugIn: Act = async (model, bench) => {
  bench.cable.plugIn(true);
  model.isPluggedIn = true;
};

const reboot: Act = async (model, bench) => {
  bench.witness.reboot();
  disarmed(model);
  model.isLinked = false;
  // The hello of the boot has to come before the link can be known as lost.
  await bench.pass(20);
};

const fresh =
  (isFresh: boolean): Act =>
  async (_, bench) => {
    bench.isFresh = isFresh;
  };

/** Another program arms: that is a stop for us, and moves nothing. */
const strangeArm: Act = async (model, bench) => {
  bench.strange("arm");
  model.isUsurped = true;
  model.mayBeArmed = false;
  await bench.pass(10);
};

/** A stale command from anywhere: with no token in force nothing comes of it. */
const strangeSpeed: Act = async (model, bench) => {
  const token = bench.tokens.at(-2) ?? NEVER_IN_FORCE;
  const before = bench.witness.isDriven;
  bench.strange("speed", `,${token},cw,1000,500`);
  model.isUsurped = true;
  if (!before) expect(bench.witness.isDriven).toBe(false);
};

const ACTS: readonly (readonly [string, Act])[] = [
  ["connect", connect],
  ["connect", connect],
  ["arm", arm],
  ["arm", arm],
  ["arm", arm],
  ["drive", drive("mine", 600)],
  ["drive", drive("mine", 300)],
  ["drive with an old token", drive("old", 600)],
  ["drive with no token of the rig's", drive("never", 600)],
  ["pump", pump],
  ["stop", stop],
  ["guard opens", guard(false)],
  ["guard shuts", guard(true)],
  ["guard shuts", guard(true)],
  ["stop input pressed", stopInput(true)],
  ["stop input released", stopInput(false)],
  ["stop input released", stopInput(false)],
  ["spindle jams", jam(true)],
  ["spindle comes free", jam(false)],
  ["cable out", pull],
  ["cable in", plugIn],
  ["cable in", plugIn],
  ["board reboots", reboot],
  ["user asleep", fresh(false)],
  ["user awake", fresh(true)],
  ["another program arms", strangeArm],
  ["a stale command", strangeSpeed],
];

/** Every other sequence begins with a motor that turns, so that there is something to go wrong. */
const BEGINNINGS = [[connect], [connect, arm, drive("mine", 600)]];

it("holds after every step, whatever the order", async () => {
  let turned = 0;
  const steps = ACTS.map(([name, act]) =>
    fc.integer({ min: 0, max: 900 }).map((thenMs) => new Step(name, thenMs, act)),
  );
  await fc.assert(
    fc.asyncProperty(
      fc.constantFrom(...BEGINNINGS),
      fc.commands(steps, { maxCommands: 25, size: "max" }),
      async (beginning, commands) => {
        const bench = new Bench();
        const model: Model = {
          isPluggedIn: true,
          isLinked: false,
          mayBeArmed: false,
          mayBeLatched: false,
          sendsAlive: false,
          silentMs: 0,
          isGuardShut: true,
          isPressed: false,
          isUsurped: false,
        };
        for (const act of beginning) await new Step("", 0, act).run(model, bench);
        turned += bench.witness.isDriven ? 1 : 0;
        await fc.asyncModelRun(() => ({ model, real: bench }), commands);
        // Whatever came before, with nobody there any more all comes to rest.
        await pull(model, bench);
        await bench.pass(EXPIRED_MS);
        expect(bench.witness.notAtRest).toBeNull();
        expect(bench.witness.unsafe).toEqual([]);
        await bench.link?.close();
        await bench.cable.close();
      },
    ),
    { numRuns: 100, seed: 8 },
  );
  expect(turned).toBeGreaterThan(20);
});
