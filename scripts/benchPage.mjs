// `npm run bench:page`: installs and builds what is missing, then times the page in a real browser.
import { ensureBrowser } from "./browser.mjs";
import { checkNode, ensureReady } from "./house.mjs";

checkNode();
await ensureReady();
const browser = await ensureBrowser();
if (browser === null) process.exit(69);
process.env.CHROME_PATH = browser;
await import("../dist/node/pageTrial/benchMain.js");
