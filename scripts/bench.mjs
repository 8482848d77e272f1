// `npm run bench`: installs and builds what is missing, then times the chain against plain line reading.
import { checkNode, ensureReady } from "./house.mjs";

checkNode();
await ensureReady();
await import("../dist/node/accuracy/bench.js");
