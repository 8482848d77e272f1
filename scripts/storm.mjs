// `npm run storm`: installs and builds what is missing, then measures every bar.
import { checkNode, ensureReady } from "./house.mjs";

checkNode();
await ensureReady();
await import("../dist/node/storm/main.js");
