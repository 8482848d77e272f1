// Vacuum, hold and vent (firmware-protocol.md, 4.1 and 3.4). The line is closed, by a plug or a capsule.
import type { VacuumLine } from "../../core/codec/rigLines.ts";
import type { TestBench } from "./bench.ts";

const REACH_MS = 15_000;
/** How near counts as brought there, and as ambient; common practice, no source. */
const NEAR_SHARE = 0.1;
const NEAR_PA = 1000;
const VENTED_PA = 3000;
const VENT_MS = 10_000;
const TOLD_MS = 300;

export async function checkVacuum(bench: TestBench): Promise<void> {
  const { ledger, hello, wire } = bench;
  if (hello.vacuumMaxPa === 0) {
    ledger.notTested("4.1", "vacuum, hold and vent", "the rig has no vacuum sensor");
    return;
  }
  const goalPa = bench.vacuumPa;
  const last = () => `"${wire.all("vac").at(-1)?.text}"`;
  const told = async (
    what: string,
    wants: (line: VacuumLine) => boolean,
    ms: number,
    wanted: string,
  ) => ledger.judge("4.1", what, (await wire.vacuum(wants, ms)) !== null, last(), wanted);
  await bench.arm();
  const vacuum = `vacuum,${bench.nextNumber()},${bench.token},${goalPa}`;
  await bench.expect("4.1", "vacuum is taken", vacuum, "ok");
  await told(
    "vacuum puts the line under control",
    ({ valve }) => valve === "control",
    TOLD_MS,
    "VALVE control",
  );
  const near = NEAR_SHARE * goalPa + NEAR_PA;
  await told(
    "vacuum brings the line there",
    ({ vacuumPa }) => Math.abs(vacuumPa - goalPa) <= near,
    REACH_MS,
    `${goalPa} Pa within ${Math.round(near)} Pa; is the line closed?`,
  );
  await bench.expect("4.1", "hold is taken", `hold,${bench.nextNumber()},${bench.token}`, "ok");
  const isHeld = ({ valve, pumpPermille }: VacuumLine) => valve === "hold" && pumpPermille === 0;
  await told("hold stops the pump and closes the line", isHeld, TOLD_MS, "PUMP 0, VALVE hold");
  await bench.expect("4.1", "vent is taken while armed", `vent,${bench.nextNumber()}`, "ok");
  const isVented = ({ valve, pumpPermille }: VacuumLine) => valve === "vent" && pumpPermille === 0;
  await told("vent stops the pump and opens the line", isVented, TOLD_MS, "PUMP 0, VALVE vent");
  await told(
    "a vented line comes to ambient",
    ({ vacuumPa }) => vacuumPa < VENTED_PA,
    VENT_MS,
    `below ${VENTED_PA} Pa`,
  );
  const { line, text } = await bench.stateAfter(null);
  ledger.judge("4.1", "vent leaves armed", line.armed, `"${text}"`, "ARMED 1");
  await bench.command("vacuum", bench.token, goalPa);
  await wire.vacuum(({ valve }) => valve === "control", TOLD_MS);
  const stop = await bench.answerTo(`stop,${bench.nextNumber()}`);
  await bench.expectStopped("4.4", "stop under vacuum stops all", stop.heard);
  await bench.rest();
}
