// `npm run storm`: faults, kills, strangers and hostile input against the program, as one table. Exit 1 where a bar is missed.
import { measureBars } from "../accuracy/command.ts";
import { BARS } from "./bars.ts";

await measureBars("storm", BARS, new URL("worker.js", import.meta.url));
