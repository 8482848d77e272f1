// `npm run storm`: installs and builds what is missing, then measures every bar.
import { ensureBrowser } from "./browser.mjs";
import { checkNode, ensureReady } from "./house.mjs";

checkNode();
await ensureReady();
const browser = await ensureBrowser();
if (browser !== null) process.env.CHROME_PATH = browser;
await import("../dist/node/storm/main.js");
