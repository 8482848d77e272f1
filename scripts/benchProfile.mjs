// `npm run bench:profile`: installs and builds what is missing, then shows where the time goes.
import { checkNode, ensureReady } from "./house.mjs";

checkNode();
await ensureReady();
await import("../dist/node/bench/profileMain.js");
