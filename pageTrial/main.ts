// `npm run test:page`: the page in a real browser, as its users go through it; one table. Exit 1 where a bar is missed.
import { measureBars } from "../accuracy/command.ts";
import { BARS } from "./bars.ts";
import { PICTURES } from "./pictures.ts";

await measureBars("page", BARS, new URL("worker.js", import.meta.url));
process.stderr.write(`page: pictures of every screen are in ${PICTURES}\n`);
