// `npm run mutation`: installs and builds what is missing, then asks the tests about every mutant.
import { checkNode, ensureReady } from "./house.mjs";

checkNode();
await ensureReady();
await import("../dist/node/mutation/main.js");
