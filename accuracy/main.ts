// `npm run accuracy`: measures every bar on the stand-in rig and prints one table. Exit 1 where one is missed.
import { BARS } from "./bars.ts";
import { measureBars } from "./command.ts";

await measureBars("accuracy", BARS, new URL("worker.js", import.meta.url));
