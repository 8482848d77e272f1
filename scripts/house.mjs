// Installs and builds what is missing, and says so. Plain JavaScript: it runs before anything is installed.
import { spawn } from "node:child_process";
import {
  existsSync,
  readdirSync,
  readFileSync,
  statSync,
  utimesSync,
  writeFileSync,
} from "node:fs";
import { setPriority } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

export const ROOT = dirname(dirname(fileURLToPath(import.meta.url)));
const SOURCES = [
  "core",
  "sim",
  "server",
  "accuracy",
  "bench",
  "evaluate",
  "firmware/trial",
  "pageTrial",
  "storm",
  "mutation",
  "web",
  "package-lock.json",
  "tsconfig.base.json",
];
const BUILT = join(ROOT, "dist", "built");
const NODE_ABI = join(ROOT, "node_modules", ".bobweight-node-abi");
const NODE_WANTED = [20, 19];
/** A third of the usual share where processes compete: low enough to yield, not to starve beside strangers. */
const NICE = 5;

function say(text) {
  process.stderr.write(`bobweight: ${text}\n`);
}

/** Runs a command in the project's folder, its output on standard error; ends the process where it fails. */
export async function run(command, args) {
  const status = await tryRun(command, args);
  if (status === 0) return;
  say(`"${command} ${args.join(" ")}" failed with status ${status}.`);
  process.exit(status);
}

const running = new Set();
// Where one of several fails and this process ends, the others are to end with it.
process.on("exit", () => {
  for (const child of running) child.kill();
});

/**
 * Runs a command in the project's folder, its output on standard error, and gives its exit status.
 * `yields`: it lets every other process go first, so that what runs in real time does not wait for it.
 */
export function tryRun(command, args, { yields = false } = {}) {
  // npm is a script on Windows and needs the shell there.
  const shell = process.platform === "win32" && command === "npm";
  const child = spawn(command, args, { cwd: ROOT, stdio: ["ignore", "pipe", "pipe"], shell });
  running.add(child);
  if (yields && child.pid !== undefined) {
    setPriority(child.pid, NICE);
  }
  // Piped, not inherited: several at once draw no moving progress over each other.
  child.stdout.pipe(process.stderr, { end: false });
  child.stderr.pipe(process.stderr, { end: false });
  return new Promise((resolve) => {
    child.on("error", (error) => {
      running.delete(child);
      say(`"${command}" could not be started: ${error.message}.`);
      resolve(1);
    });
    child.on("close", (status) => {
      running.delete(child);
      resolve(status ?? 1);
    });
  });
}

export function checkNode() {
  const [major, minor] = process.versions.node.split(".").map(Number);
  const [wantedMajor, wantedMinor] = NODE_WANTED;
  if (major > wantedMajor || (major === wantedMajor && minor >= wantedMinor)) return;
  say(`Node ${NODE_WANTED.join(".")} or newer is needed; this is ${process.versions.node}.`);
  process.exit(69);
}

/** Installs and builds what is missing. */
export async function ensureReady() {
  await ensureDownloaded();
  await Promise.all([ensureCompiled(), ensureBuilt()]);
}

/** The packages as they are published; native ones may still have to be compiled. */
export async function ensureDownloaded() {
  const marker = join(ROOT, "node_modules", ".package-lock.json");
  const lock = join(ROOT, "package-lock.json");
  if (existsSync(marker) && statSync(marker).mtimeMs >= statSync(lock).mtimeMs) return;
  say("installing what is missing …");
  // Native packages are compiled and the program built by themselves, both at once.
  await run("npm", ["ci", "--ignore-scripts", "--no-audit", "--no-fund", "--loglevel=error"]);
  const now = new Date();
  utimesSync(marker, now, now);
}

/** Native packages, compiled or fetched ready-made for this generation of Node; another one cannot load them. */
export async function ensureCompiled() {
  const compiledFor = existsSync(NODE_ABI) ? readFileSync(NODE_ABI, "utf8") : null;
  if (compiledFor === process.versions.modules) return;
  say("fetching or compiling native packages (once; compiling takes a minute or two) …");
  const { allowScripts, optionalDependencies } = JSON.parse(
    readFileSync(join(ROOT, "package.json"), "utf8"),
  );
  const rebuild = ["rebuild", "--ignore-scripts=false", "--loglevel=error"];
  const isOptional = (name) => name in optionalDependencies;
  const native = Object.keys(allowScripts);
  await run("npm", [...rebuild, ...native.filter((name) => !isOptional(name))]);
  for (const name of native.filter(isOptional)) {
    if ((await tryRun("npm", [...rebuild, name])) === 0) continue;
    say(`${name} could not be compiled: what needs it will say so, all else works.`);
  }
  noteCompiled();
}

/** Notes for which generation of Node the native packages are. */
export function noteCompiled() {
  writeFileSync(NODE_ABI, process.versions.modules);
}

export async function ensureBuilt() {
  const builtMs = existsSync(BUILT) ? statSync(BUILT).mtimeMs : 0;
  if (SOURCES.every((source) => newestMs(join(ROOT, source)) <= builtMs)) return;
  say("building (once after each change) …");
  await build();
}

export async function build() {
  const tsc = join(ROOT, "node_modules", "typescript", "bin", "tsc");
  const vite = join(ROOT, "node_modules", "vite", "bin", "vite.js");
  await run(process.execPath, [
    tsc,
    "-b",
    "server",
    "accuracy",
    "bench",
    "evaluate",
    "firmware",
    "pageTrial",
    "storm",
    "mutation",
  ]);
  await run(process.execPath, [vite, "build", "web", "--logLevel", "warn"]);
  writeFileSync(BUILT, "");
}

function newestMs(path) {
  const stat = statSync(path);
  if (!stat.isDirectory()) return stat.mtimeMs;
  let newest = stat.mtimeMs;
  for (const name of readdirSync(path)) newest = Math.max(newest, newestMs(join(path, name)));
  return newest;
}
