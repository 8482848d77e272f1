// `npm start`: installs and builds what is missing, then serves the page.
import { checkNode, ensureBuilt, ensureInstalled } from "./house.mjs";

checkNode();
ensureInstalled();
ensureBuilt();
const { main } = await import("../dist/node/server/commands/main.js");
const [node, script, ...rest] = process.argv;
process.exitCode = await main([node, script, "serve", ...rest]);
