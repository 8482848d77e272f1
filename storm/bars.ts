// Every bar, the longest first so that no core waits at the end.
import type { Bar } from "../accuracy/bar.ts";
import { advisories } from "./bars/advisories.ts";
import { diskFull } from "./bars/diskFull.ts";
import { doors } from "./bars/doors.ts";
import { expiry } from "./bars/expiry.ts";
import { faults } from "./bars/faults.ts";
import { hostile } from "./bars/hostile.ts";
import { kills } from "./bars/kills.ts";
import { long } from "./bars/long.ts";
import { motion } from "./bars/motion.ts";
import { powerCuts } from "./bars/powerCuts.ts";
import { stops } from "./bars/stops.ts";

export const BARS: readonly Bar<unknown>[] = [
  long,
  powerCuts,
  faults,
  kills,
  hostile,
  doors,
  expiry,
  advisories,
  stops,
  motion,
  diskFull,
];
