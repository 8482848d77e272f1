// Every way a run can end: named, with the motor off and the line vented at the rig itself.

import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { LineCutter } from "../../core/codec/framing.ts";
import { parseRigLine } from "../../core/codec/rigLineReader.ts";
import type { StateLine, VacuumLine } from "../../core/codec/rigLines.ts";
import type { EndDocument, RunDocument } from "../../core/documents.ts";
import type { Plan } from "../../core/plan.ts";
import { GERMAN } from "../../core/speech/german.ts";
import { toldText } from "../../core/told.ts";
import { unitFromFile } from "../../core/unitFile.ts";
import type { BytePort } from "../../server/link/bytePort.ts";
import { Run } from "../../server/run/run.ts";
import { VirtualScheduler } from "../../server/schedulers.ts";
import { parseScenario } from "../../sim/scenario.ts";
import { StandInRig } from "../../sim/standInRig.ts";

const UNIT = {
  description: "test unit",
  lobes: 4,
  rotation: "cw",
  capsules: [{ name: "capsule", vacuum: "kPa" }],
};
const PLAN: Plan = {
  referenceRpm: 150,
  speedsRpm: [500, 1000],
  capsules: [
    {
      hold: { vacuumPa: 40_000, settleS: 1, seconds: 2, dropMaxPa: 2000 },
      vacuumsPa: [10_000, 30_000],
    },
  ],
  vacuumSweepRpm: 300,
  rampRpmPerS: 500,
  turnsPerReading: 8,
  secondsPerReading: 600,
};
const TABLES = {
  speedTable: [
    [0, 0],
    [400, 0],
    [1000, 10],
  ],
  vacuumTable: [
    [0, 0],
    [40, 8],
  ],
};

/** A rig on a cable that the test can pull; it goes on living when the host has closed the port. */
class TestPort implements BytePort {
  onBytes: (bytes: Uint8Array) => void = () => {};
  onLost: BytePort["onLost"] = () => {};
  state: StateLine | null = null;
  vacuum: VacuumLine | null = null;
  fastestRpm = 0;
  hostOpen = false;
  private readonly rig: StandInRig;
  private readonly cutter = new LineCutter((bytes, from, to) => {
    const line = parseRigLine(bytes.subarray(from, to));
    if (line.type === "vac") this.vacuum = line;
    if (line.type === "state") {
      this.state = line;
      this.fastestRpm = Math.max(this.fastestRpm, line.nowRpm);
    }
  });

  constructor(scenario: unknown, scheduler: VirtualScheduler) {
    this.rig = new StandInRig(parseScenario(scenario, "scenario"), scheduler);
    this.rig.onBytes = (bytes) => {
      this.cutter.push(bytes);
      if (this.hostOpen) this.onBytes(bytes);
    };
  }

  async open() {
    this.hostOpen = true;
  }

  write(bytes: Uint8Array) {
    if (this.hostOpen) this.rig.receive(bytes);
  }

  async close() {
    this.hostOpen = false;
  }

  unplug() {
    this.hostOpen = false;
    this.onLost("unplugged");
  }
}

interface Outcome {
  readonly end: EndDocument;
  readonly port: TestPort;
  readonly types: readonly RunDocument["type"][];
}

interface Interference {
  readonly scenario?: object;
  readonly unit?: object;
  readonly isFresh?: (nowMs: number) => boolean;
  readonly append?: (document: RunDocument) => void;
  readonly during?: (document: RunDocument, run: Run, port: TestPort) => void;
}

async function play(interference: Interference): Promise<Outcome> {
  const scheduler = new VirtualScheduler();
  const scenario = { mechanism: TABLES, ...interference.scenario };
  const port = new TestPort(scenario, scheduler);
  const documents: RunDocument[] = [];
  const unitFile = { ...UNIT, ...interference.unit };
  const run = new Run({
    port,
    scheduler,
    recordId: "test",
    engineVersion: "0",
    unit: unitFromFile(unitFile, "unit"),
    unitFile,
    afterRecordId: null,
    planFor: () => PLAN,
    describeRig: (hello) => ({
      name: "test rig",
      simulated: true,
      scenario: null,
      hello,
      calibration: null,
      vacuumSensorStandardUncertaintyPa: 0,
      triggerDelayStandardUncertaintyUs: 0,
      ambientPa: null,
    }),
    record: () => ({ append: interference.append ?? (() => {}), raw: () => {}, end: () => {} }),
    emit: (document) => {
      documents.push(document);
      interference.during?.(document, run, port);
    },
    liveEveryMs: null,
    isFresh: () => interference.isFresh?.(scheduler.nowMs()) ?? true,
    utcNow: () => "2000-01-01T00:00:00.000Z",
    explains: true,
  });
  const work = run.prepare().then(() => run.carryOut());
  const end = await scheduler.run(work);
  // Half a second for a rig that could not be told, and the line's own time to empty.
  await scheduler.run(new Promise<void>((resolve) => scheduler.after(3000, resolve)));
  return { end, port, types: documents.map(({ type }) => type) };
}

/** At the rig: no drive, no token, line open to ambient. */
function expectAtRest({ end, port, types }: Outcome): void {
  expect(port.state).toMatchObject({ setRpm: 0, armed: false });
  // A failed sensor sends no more vacuum lines, so the last one is from before.
  if (port.state?.fault !== "sensor" && end.reason?.code !== "RIG_SENSOR") {
    expect(port.vacuum).toMatchObject({ pumpPermille: 0, valve: "vent" });
  }
  expect(types.filter((type) => type === "end")).toHaveLength(1);
  expect(types[types.length - 1]).toBe("end");
}

const atStep = (step: string, action: (run: Run, port: TestPort) => void): Interference => {
  let done = false;
  return {
    during: (document, run, port) => {
      if (done || document.type !== "step" || document.step !== step) return;
      done = true;
      action(run, port);
    },
  };
};

describe("a run", () => {
  it("that goes through is completed, and rests", async () => {
    const outcome = await play({});
    expect(outcome.end).toMatchObject({ ending: "completed", reason: null, restConfirmed: true });
    expect(outcome.end.result.speed.rising.map(({ advanceDeg }) => Math.round(advanceDeg))).toEqual(
      [2, 10],
    );
    expectAtRest(outcome);
  });

  it.each(["reference", "hold", "vacuum", "speed", "return"])(
    "stopped by the user in step %s is stopped",
    async (step) => {
      const outcome = await play(atStep(step, (run) => run.stop("STOPPED_BY_USER")));
      expect(outcome.end).toMatchObject({ ending: "stopped", reason: { code: "STOPPED_BY_USER" } });
      expectAtRest(outcome);
    },
  );

  it("stopped before it was armed never moves", async () => {
    const outcome = await play({
      during: (document, run) => {
        if (document.type === "start") run.stop("STOPPED_BY_USER");
      },
    });
    expect(outcome.end.ending).toBe("stopped");
    expect(outcome.port.fastestRpm).toBe(0);
    expectAtRest(outcome);
  });

  it.each([
    ["guardOpens", "RIG_GUARD_OPEN"],
    ["stopPressed", "RIG_STOP_INPUT"],
    ["spindleJams", "RIG_STALL"],
    ["driveRunsAway", "RIG_OVERSPEED"],
    ["sensorFails", "RIG_SENSOR"],
    ["boardReboots", "RIG_REBOOTED"],
  ])("in which %s ends as a rig fault", async (what, code) => {
    const outcome = await play({ scenario: { incidents: [{ what, atS: 12 }] } });
    expect(outcome.end).toMatchObject({ ending: "rig fault", reason: { code } });
    // What is kept can be said in German too.
    const { reason } = outcome.end;
    expect(reason && toldText(reason, GERMAN)).toMatch(
      /^(Der Prüfstand|Der Halt|Die Schutzhaube) .*\.$/,
    );
    expectAtRest(outcome);
  });

  it("on a rig that falls silent ends as link lost", async () => {
    const outcome = await play({
      scenario: { incidents: [{ what: "boardFallsSilent", atS: 12 }] },
    });
    expect(outcome.end).toMatchObject({ ending: "link lost", restConfirmed: false });
  });

  it("whose cable is pulled ends as link lost, and the rig stops by itself", async () => {
    const outcome = await play(atStep("speed", (_, port) => port.unplug()));
    expect(outcome.end).toMatchObject({ ending: "link lost", reason: { code: "LINK_LOST" } });
    expectAtRest(outcome);
    expect(outcome.port.state?.fault).toBe("alive");
  });

  it("without fresh sign of life from the user is stopped by the rig", async () => {
    const outcome = await play({ isFresh: (nowMs) => nowMs < 15_000 });
    expect(outcome.end).toMatchObject({ ending: "rig fault", reason: { code: "RIG_ALIVE_LOST" } });
    expectAtRest(outcome);
  });

  it("that cannot be kept is stopped", async () => {
    let appended = 0;
    const outcome = await play({
      append: () => {
        appended++;
        if (appended === 4) throw new Error("disk full");
      },
    });
    expect(outcome.end).toMatchObject({ ending: "stopped", reason: { code: "BUG" } });
    expectAtRest(outcome);
  });

  it("with a falling curve stops with the question of rotation", async () => {
    const outcome = await play({
      scenario: {
        mechanism: {
          speedTable: [
            [0, 0],
            [400, 0],
            [1000, -10],
          ],
        },
      },
    });
    expect(outcome.end).toMatchObject({ ending: "stopped", reason: { code: "ROTATION_DOUBTFUL" } });
    expectAtRest(outcome);
  });

  it("spun the wrong way asks the same", async () => {
    const outcome = await play({ scenario: { unit: { rotation: "ccw" } } });
    expect(outcome.end).toMatchObject({ ending: "stopped", reason: { code: "ROTATION_DOUBTFUL" } });
  });

  it("with weights stuck and edges told late measures to its end", async () => {
    const outcome = await play({
      scenario: {
        mechanism: {
          speedTable: [
            [0, 0],
            [3000, 0],
          ],
        },
        rig: { delayUs: 450 },
      },
    });
    expect(outcome.end).toMatchObject({ ending: "completed" });
    expect(outcome.end.result.speed.rising.at(-1)?.advanceDeg).toBeLessThan(-2);
  });

  it("on a unit with another number of lobes says so", async () => {
    const outcome = await play({ unit: { lobes: 6 } });
    expect(outcome.end).toMatchObject({ ending: "stopped", reason: { code: "LOBES_UNKNOWN" } });
    expect(outcome.end.reason?.text).toContain("4.0 firing edges a turn");
    expectAtRest(outcome);
  });

  it("on a torn diaphragm is completed", async () => {
    const outcome = await play({
      scenario: JSON.parse(tornScenario()),
    });
    expect(outcome.end.ending).toBe("completed");
    expect(outcome.end.result.capsules[0]?.hold?.reached).toBe(false);
    expectAtRest(outcome);
  });
});

function tornScenario(): string {
  return readFileSync(
    new URL("../../examples/torn-diaphragm.scenario.json", import.meta.url),
    "utf8",
  );
}
