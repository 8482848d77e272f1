// Every bar, the longest first so that no core waits at the end.
import type { Bar } from "../accuracy/bar.ts";
import { advisories } from "./bars/advisories.ts";
import { hostile } from "./bars/hostile.ts";
import { kills } from "./bars/kills.ts";
import { motion } from "./bars/motion.ts";
import { powerCuts } from "./bars/powerCuts.ts";
import { stops } from "./bars/stops.ts";

export const BARS: readonly Bar<unknown>[] = [powerCuts, kills, hostile, advisories, stops, motion];
