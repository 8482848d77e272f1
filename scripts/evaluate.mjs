// `npm run evaluate`: installs and builds what is missing, then measures every bar.
import { checkNode, ensureBuilt, ensureInstalled } from "./house.mjs";

checkNode();
ensureInstalled();
ensureBuilt();
await import("../dist/node/evaluate/main.js");
