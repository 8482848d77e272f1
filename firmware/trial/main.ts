// `npm run test:firmware`: the image that would be flashed, run cycle by cycle; one table. Exit 1 where a bar is missed.
import { measureBars } from "../../accuracy/command.ts";
import { BARS } from "./bars.ts";

await measureBars("firmware", BARS, new URL("worker.js", import.meta.url));
