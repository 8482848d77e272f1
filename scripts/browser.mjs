// Finds a Chromium for the browser tests and the pictures, or says how to come by one.
import { spawnSync } from "node:child_process";
import { existsSync } from "node:fs";
import { join } from "node:path";
import { tryRun } from "./house.mjs";

const { env, platform } = process;
const PLACES = {
  linux: [
    "/usr/bin/chromium",
    "/usr/bin/chromium-browser",
    "/usr/bin/google-chrome",
    "/snap/bin/chromium",
  ],
  darwin: [
    "/Applications/Chromium.app/Contents/MacOS/Chromium",
    "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
  ],
  win32: [env.PROGRAMFILES, env["PROGRAMFILES(X86)"], env.LOCALAPPDATA]
    .filter(Boolean)
    .map((folder) => join(folder, "Google", "Chrome", "Application", "chrome.exe")),
};

/** Path of a browser, or null. */
export function findBrowser() {
  const places = [env.CHROME_PATH, ...(PLACES[platform] ?? [])].filter(Boolean);
  return places.find((place) => existsSync(place)) ?? null;
}

/** Path of a browser, installed by the system's package manager where that is allowed; else null. */
export async function ensureBrowser() {
  const found = findBrowser();
  if (found !== null) return found;
  const mayInstall =
    platform === "linux" &&
    process.getuid?.() === 0 &&
    spawnSync("apt-get", ["--version"]).status === 0;
  if (mayInstall) {
    process.stderr.write("bobweight: installing Chromium for the browser tests …\n");
    await tryRun("apt-get", ["update", "-qq"]);
    await tryRun("apt-get", ["install", "-y", "-qq", "--no-install-recommends", "chromium"]);
  }
  const now = findBrowser();
  if (now === null) {
    process.stderr.write(
      "bobweight: no Chromium or Chrome was found. Install one, or set CHROME_PATH to its program, and run the tests again.\n",
    );
  }
  return now;
}
