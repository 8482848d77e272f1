// `npm run bench`: installs and builds what is missing, then times the chain against plain line reading.
import { checkNode, ensureBuilt, ensureInstalled } from "./house.mjs";

checkNode();
ensureInstalled();
ensureBuilt();
await import("../dist/node/accuracy/bench.js");
