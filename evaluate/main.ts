// `npm run evaluate`: how well findings hold on simulated units, as one table. Exit 1 where a bar is missed.
import { measureBars } from "../accuracy/command.ts";
import { BARS } from "./bars.ts";

await measureBars("evaluate", BARS, new URL("worker.js", import.meta.url));
