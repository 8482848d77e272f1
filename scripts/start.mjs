// `npm start`: installs and builds what is missing, then serves the page.
import { checkNode, ensureReady } from "./house.mjs";

checkNode();
await ensureReady();
const { main } = await import("../dist/node/server/commands/main.js");
const [node, script, ...rest] = process.argv;
process.exitCode = await main([node, script, "serve", ...rest]);
