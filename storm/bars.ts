// Every bar, the longest first so that no core waits at the end.
import type { Bar } from "../accuracy/bar.ts";
import { advisories } from "./bars/advisories.ts";

export const BARS: readonly Bar<unknown>[] = [advisories];
