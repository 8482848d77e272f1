// `npm run pictures`: the README's pictures, made from the real page on the stand-in rig.
import { spawn } from "node:child_process";
import { mkdirSync, mkdtempSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { chromium } from "playwright-core";
import { ensureBrowser } from "./browser.mjs";
import { ensureBuilt, ensureInstalled, ROOT } from "./house.mjs";

ensureInstalled();
ensureBuilt();
const executablePath = ensureBrowser();
if (executablePath === null) process.exit(69);
const folder = join(ROOT, "docs");
mkdirSync(folder, { recursive: true });

const data = mkdtempSync(join(tmpdir(), "bobweight-pictures-"));
const program = [join(ROOT, "bin", "bobweight.js"), "serve", "--port", "0", "--data", data];
const server = spawn(process.execPath, program, { stdio: ["ignore", "pipe", "inherit"] });
const url = await new Promise((resolve) => {
  server.stdout.once("data", (line) => resolve(String(line).trim()));
});
const browser = await chromium.launch({ executablePath, args: ["--no-sandbox", "--disable-gpu"] });
try {
  const page = await browser.newPage({ viewport: { width: 1366, height: 768 } });
  const shoot = (name, options = {}) =>
    page.screenshot({ path: join(folder, `${name}.png`), ...options });
  await page.goto(url);
  await page.getByTestId("scenario").selectOption("light-spring");
  await shoot("start");
  await page.getByTestId("cautions-read").check();
  await page.getByTestId("start-measuring").click();
  await page.getByText("Speed sweep, falling").first().waitFor({ timeout: 120_000 });
  await page.waitForTimeout(3000);
  await shoot("running");
  await page.getByTestId("verdict").waitFor({ timeout: 120_000 });
  await shoot("result");
  const sheet = await page.getByTestId("open-sheet").getAttribute("href");
  await page.setViewportSize({ width: 900, height: 1270 });
  await page.goto(new URL(sheet, url).href);
  await shoot("sheet");
} finally {
  await browser.close();
  server.kill("SIGTERM");
}
