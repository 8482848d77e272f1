// `npm run pictures`: the README's pictures, made from the real page on the stand-in rig.
import { spawn, spawnSync } from "node:child_process";
import { existsSync, mkdirSync, mkdtempSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { ensureBrowser } from "./browser.mjs";
import { ensureReady, ROOT } from "./house.mjs";

await ensureReady();
const { chromium } = await import("playwright-core");
const executablePath = await ensureBrowser();
if (executablePath === null) process.exit(69);
const folder = join(ROOT, "docs");
mkdirSync(folder, { recursive: true });

const data = mkdtempSync(join(tmpdir(), "bobweight-pictures-"));
const program = [join(ROOT, "bin", "bobweight.js"), "serve", "--port", "0", "--data", data];
const server = spawn(process.execPath, program, { stdio: ["ignore", "pipe", "inherit"] });
const url = await new Promise((resolve) => {
  server.stdout.once("data", (line) => resolve(String(line).trim()));
});
/** Standard output of a command on the records of this page. */
function command(...args) {
  return spawnSync(process.execPath, [join(ROOT, "bin", "bobweight.js"), ...args, "--data", data], {
    encoding: "utf8",
  }).stdout;
}
// What the firmware does at its pins, where `npm run test:firmware` has built it.
if (existsSync(join(ROOT, "firmware", "build", "harness"))) {
  const drawn = spawnSync(process.execPath, [join(ROOT, "dist/node/firmware/trial/trace.js")]);
  writeFileSync(join(ROOT, "firmware", "trace.svg"), drawn.stdout);
}
const browser = await chromium.launch({ executablePath, args: ["--no-sandbox", "--disable-gpu"] });
try {
  const page = await browser.newPage({ viewport: { width: 1366, height: 768 } });
  const shoot = (name, options = {}) =>
    page.screenshot({ path: join(folder, `${name}.png`), ...options });
  await page.goto(url);
  await page.getByTestId("scenario").waitFor();
  await page.getByTestId("scenario").selectOption("light-spring");
  await shoot("start");
  await page.getByTestId("new-job").click();
  const noted = [
    ["unit", "Everyday four (invented)"],
    ["owner", "A. Example (invented)"],
    ["vehicle", "Invented saloon, 1.6 litres"],
    ["gapSetMm", "0.40"],
  ];
  for (const [field, text] of noted) await page.getByTestId(`card-${field}`).fill(text);
  await page.evaluate(() => window.scrollTo(0, 0));
  await shoot("job");
  await page.getByTestId("card-to-rig").click();
  await page.getByTestId("scenario").selectOption("light-spring");
  await page.getByTestId("cautions-read").check();
  await page.getByTestId("start-measuring").click();
  await page.getByText("Speed sweep, falling").first().waitFor({ timeout: 120_000 });
  await page.waitForTimeout(3000);
  await shoot("running");
  await page.getByTestId("large").click();
  await page.waitForTimeout(500);
  await shoot("across");
  await page.getByTestId("verdict").waitFor({ timeout: 120_000 });
  await shoot("result");
  await page.getByTestId("findings").scrollIntoViewIfNeeded();
  await page.getByTestId("findings").screenshot({ path: join(folder, "finding.png") });
  const sheet = await page.getByTestId("open-sheet").getAttribute("href");
  await page.setViewportSize({ width: 900, height: 1270 });
  await page.goto(new URL(sheet, url).href);
  await shoot("sheet");
  const marks = join(data, "marks.html");
  command("engine", "--out", marks);
  await page.goto(pathToFileURL(marks).href);
  await shoot("engine");
  const advice = command(
    "refit",
    ...["--drawer", join(ROOT, "examples", "invented.springs.csv")],
    ...["--first", "invented found 41@20.73..24.62", "--second", "invented found 43@12.11..14.90"],
  );
  await page.setViewportSize({ width: 900, height: 400 });
  await page.setContent('<pre style="font: 15px/1.5 monospace; margin: 1rem"></pre>');
  await page.locator("pre").evaluate((pre, text) => {
    pre.textContent = text.split("\n").slice(0, 15).join("\n");
  }, advice);
  await shoot("refit");
} finally {
  await browser.close();
  server.kill("SIGTERM");
}
