// The end of a token for want of stay-alive (firmware-protocol.md, 6.1), timed.
import { HOST_MARGIN_MS, type TestBench } from "./bench.ts";

const EARLIEST_MS = 400;
const LATEST_MS = 500;
const WAIT_MS = 3000;

/** `lastAliveMs`: when the last stay-alive was sent; none follows. False where the token never ran out. */
export async function judgeExpiry(
  bench: TestBench,
  when: string,
  lastAliveMs: number,
): Promise<boolean> {
  const { wire, ledger } = bench;
  const expired = await wire.state((line) => !line.armed, WAIT_MS);
  const afterMs = expired === null ? Number.POSITIVE_INFINITY : expired.atMs - lastAliveMs;
  const seen =
    expired === null ? `ARMED 1 for ${WAIT_MS} ms` : `ARMED 0 after ${Math.round(afterMs)} ms`;
  const isInTime = afterMs >= EARLIEST_MS - HOST_MARGIN_MS && afterMs <= LATEST_MS + HOST_MARGIN_MS;
  const wanted = `${EARLIEST_MS} to ${LATEST_MS} ms (± ${HOST_MARGIN_MS} ms for this computer)`;
  ledger.judge("6.1", `the stay-alive runs out ${when} after its time`, isInTime, seen, wanted);
  if (expired === null) return false;
  const { line, text } = expired;
  const isTold = line.fault === "alive" && line.setRpm === 0;
  ledger.judge(
    "6.1",
    `an expiry ${when} is told and stops`,
    isTold,
    `"${text}"`,
    "SETRPM 0, FAULT alive",
  );
  if (bench.hello.vacuumMaxPa === 0) return true;
  const vac = await wire.vacuum(() => true, 500);
  const isVented =
    vac?.line?.type === "vac" && vac.line.valve === "vent" && vac.line.pumpPermille === 0;
  ledger.judge(
    "6.1",
    `an expiry ${when} vents the line`,
    isVented,
    `"${vac?.text}"`,
    "PUMP 0, VALVE vent",
  );
  return true;
}
