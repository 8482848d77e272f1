// `npm run bench:page`: how much the page asks of its machine; one table. Exit 1 where a bar is missed.
import { measureBars } from "../accuracy/command.ts";
import { BENCH_BARS } from "./benchBars.ts";

await measureBars("page", BENCH_BARS, new URL("worker.js", import.meta.url));
