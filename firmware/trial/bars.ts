// Every bar of the firmware, the longest first so that no core waits at the end.
import type { Bar } from "../../accuracy/bar.ts";
import { angle } from "./bars/angle.ts";
import { calibration } from "./bars/calibration.ts";
import { contract } from "./bars/contract.ts";
import { events } from "./bars/events.ts";
import { paced } from "./bars/paced.ts";
import { plan } from "./bars/plan.ts";
import { size } from "./bars/size.ts";
import { stamps } from "./bars/stamps.ts";
import { stops } from "./bars/stops.ts";

export const BARS: readonly Bar<unknown>[] = [
  plan,
  angle,
  calibration,
  contract,
  events,
  stamps,
  stops,
  size,
  paced,
];
