// `npm run bench`: how fast the program is, as ratios within one run where it can be; one table. Exit 1 where a bar is missed.
import { measureBars } from "../accuracy/command.ts";
import { BARS } from "./bars.ts";

await measureBars("bench", BARS, new URL("worker.js", import.meta.url));
