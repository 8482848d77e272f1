// `npm run bench`: installs and builds what is missing, then measures every bar on speed.
import { checkNode, ensureReady } from "./house.mjs";

checkNode();
await ensureReady();
await import("../dist/node/bench/main.js");
