// Every bar, the longest first so that no core waits at the end.
import type { Bar } from "../accuracy/bar.ts";
import { advisories } from "./bars/advisories.ts";
import { expiry } from "./bars/expiry.ts";
import { faults } from "./bars/faults.ts";
import { long } from "./bars/long.ts";

export const BARS: readonly Bar<unknown>[] = [long, faults, expiry, advisories];
