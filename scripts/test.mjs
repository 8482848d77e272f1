// `npm test`: installs and builds what is missing, then lint, types and every test. Ends with "N passed, N failed".
import { readFileSync, rmSync } from "node:fs";
import { availableParallelism } from "node:os";
import { join } from "node:path";
import { ensureBrowser } from "./browser.mjs";
import {
  checkNode,
  ensureBuilt,
  ensureCompiled,
  ensureDownloaded,
  ROOT,
  tryRun,
} from "./house.mjs";
import { ensurePostgres } from "./postgres.mjs";

/** Exit status of a script whose tools are missing. */
const TOOLS_MISSING = 69;
const bin = (...parts) => join(ROOT, "node_modules", ...parts);
const CHECKS = [
  ["lint", [bin("@biomejs", "biome", "bin", "biome"), "check", "--error-on-warnings"]],
  ["dead code", [bin("knip", "bin", "knip.js")]],
  ["types of the tests", [bin("typescript", "bin", "tsc"), "-p", "tests", "--noEmit"]],
  [
    "types of the page",
    [bin("svelte-check", "bin", "svelte-check"), "--tsconfig", "web/tsconfig.json"],
  ],
];

/** One after the other; counts of those that passed and failed. */
async function checks() {
  let failed = 0;
  for (const [name, args] of CHECKS) {
    process.stderr.write(`bobweight: ${name} …\n`);
    if ((await tryRun(process.execPath, args, { yields: true })) === 0) continue;
    failed++;
    process.stderr.write(`bobweight: ${name} failed.\n`);
  }
  return { passed: CHECKS.length - failed, failed };
}

/** Tests of one project that the names on the command line choose, if any; counts of those that passed and failed. */
async function tests(project, args, options) {
  const results = join(ROOT, "dist", `test-results ${project}.json`);
  // Without this, results of an earlier run would count where this one could not start.
  rmSync(results, { force: true });
  const status = await tryRun(
    process.execPath,
    [
      ...[bin("vitest", "vitest.mjs"), "run", "--project", project, ...args],
      ...["--reporter=default", "--reporter=json", `--outputFile.json=${results}`],
      ...["--passWithNoTests", ...process.argv.slice(2)],
    ],
    options,
  );
  try {
    const { numPassedTests, numTotalTests, testResults } = JSON.parse(
      readFileSync(results, "utf8"),
    );
    // A file that could not even be loaded counts as a failure of its own.
    const unloaded = testResults.filter(
      ({ status, assertionResults }) =>
        status === "failed" && !assertionResults.some((one) => one.status === "failed"),
    ).length;
    const failed = numTotalTests - numPassedTests + unloaded;
    return { passed: numPassedTests, failed: status === 0 ? failed : Math.max(failed, 1) };
  } catch {
    return { passed: 0, failed: 1 };
  }
}

/** The firmware's image on its simulator, where the tools for it are at hand; CI has them. */
async function firmware() {
  const status = await tryRun(process.execPath, [join(ROOT, "scripts", "firmware.mjs")]);
  if (status === 0) return { passed: 1, failed: 0 };
  if (status === TOOLS_MISSING && process.env.CI === undefined) {
    process.stderr.write("bobweight: the firmware was not tested.\n");
    return { passed: 0, failed: 0 };
  }
  return { passed: 0, failed: 1 };
}

checkNode();
await ensureDownloaded();
const browser = await ensureBrowser();
if (browser !== null) process.env.CHROME_PATH = browser;
await ensurePostgres();
// Pages and commands wait much of the while: checks and unit tests fill that, and yield to them.
const compiled = ensureCompiled();
const built = ensureBuilt();
const checked = built.then(checks);
const [unit, endToEnd] = await Promise.all([
  Promise.all([compiled, checked]).then(() =>
    tests("unit", [`--maxWorkers=${availableParallelism()}`], { yields: true }),
  ),
  Promise.all([compiled, built]).then(() => tests("end to end", [])),
]);
// Played and measured in real time, which nothing else may keep busy.
const realTime = await tests("real time", []);
// Not where the command line chooses some of the tests.
const image = process.argv.length > 2 ? { passed: 0, failed: 0 } : await firmware();
const all = [await checked, unit, endToEnd, realTime, image];
const sum = (of) => all.reduce((total, counts) => total + of(counts), 0);
const passed = sum((counts) => counts.passed);
const ran = unit.passed + endToEnd.passed + realTime.passed > 0;
const failed = sum((counts) => counts.failed) + (ran ? 0 : 1);
process.stdout.write(`${passed} passed, ${failed} failed\n`);
process.exitCode = failed === 0 ? 0 : 1;
