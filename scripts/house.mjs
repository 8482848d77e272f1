// Installs and builds what is missing, and says so. Plain JavaScript: it runs before anything is installed.
import { spawnSync } from "node:child_process";
import {
  existsSync,
  readdirSync,
  readFileSync,
  statSync,
  utimesSync,
  writeFileSync,
} from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

export const ROOT = dirname(dirname(fileURLToPath(import.meta.url)));
const SOURCES = [
  "core",
  "sim",
  "server",
  "accuracy",
  "evaluate",
  "web",
  "package-lock.json",
  "tsconfig.base.json",
];
const BUILT = join(ROOT, "dist", "built");
const NODE_ABI = join(ROOT, "node_modules", ".bobweight-node-abi");
const NODE_WANTED = [20, 19];

function say(text) {
  process.stderr.write(`bobweight: ${text}\n`);
}

/** Runs a command in the project's folder, its output on standard error; ends the process where it fails. */
export function run(command, args) {
  const status = tryRun(command, args);
  if (status !== 0) {
    say(`"${command} ${args.join(" ")}" failed with status ${status}.`);
    process.exit(status);
  }
}

export function tryRun(command, args) {
  // npm is a script on Windows and needs the shell there.
  const shell = process.platform === "win32" && command === "npm";
  const done = spawnSync(command, args, { cwd: ROOT, stdio: ["ignore", 2, 2], shell });
  return done.status ?? 1;
}

export function checkNode() {
  const [major, minor] = process.versions.node.split(".").map(Number);
  const [wantedMajor, wantedMinor] = NODE_WANTED;
  if (major > wantedMajor || (major === wantedMajor && minor >= wantedMinor)) return;
  say(`Node ${NODE_WANTED.join(".")} or newer is needed; this is ${process.versions.node}.`);
  process.exit(69);
}

export function ensureInstalled() {
  const marker = join(ROOT, "node_modules", ".package-lock.json");
  const lock = join(ROOT, "package-lock.json");
  const fresh = existsSync(marker) && statSync(marker).mtimeMs >= statSync(lock).mtimeMs;
  if (fresh && compiledForThisNode()) return;
  say(
    "installing what is missing (once; some parts may be compiled, which takes a minute or two) …",
  );
  // Building follows by itself below, so that it is done once.
  run("npm", ["ci", "--ignore-scripts=false", "--no-audit", "--no-fund", "--loglevel=error"]);
  const now = new Date();
  utimesSync(marker, now, now);
}

/** Native packages are compiled for one generation of Node; another one cannot load them. */
function compiledForThisNode() {
  return !existsSync(NODE_ABI) || readFileSync(NODE_ABI, "utf8") === process.versions.modules;
}

export function ensureBuilt() {
  const builtMs = existsSync(BUILT) ? statSync(BUILT).mtimeMs : 0;
  if (SOURCES.every((source) => newestMs(join(ROOT, source)) <= builtMs)) return;
  say("building (once after each change) …");
  build();
}

export function build() {
  const tsc = join(ROOT, "node_modules", "typescript", "bin", "tsc");
  run(process.execPath, [tsc, "-b", "server", "accuracy", "evaluate"]);
  run(process.execPath, [
    join(ROOT, "node_modules", "vite", "bin", "vite.js"),
    "build",
    "web",
    "--logLevel",
    "warn",
  ]);
  writeFileSync(BUILT, "");
  writeFileSync(NODE_ABI, process.versions.modules);
}

function newestMs(path) {
  const stat = statSync(path);
  if (!stat.isDirectory()) return stat.mtimeMs;
  let newest = stat.mtimeMs;
  for (const name of readdirSync(path)) newest = Math.max(newest, newestMs(join(path, name)));
  return newest;
}
