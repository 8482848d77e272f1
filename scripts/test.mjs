// `npm test`: installs and builds what is missing, then lint, types and every test. Ends with "N passed, N failed".
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { ensureBrowser } from "./browser.mjs";
import { checkNode, ensureBuilt, ensureInstalled, ROOT, tryRun } from "./house.mjs";

checkNode();
ensureInstalled();
ensureBuilt();
const browser = ensureBrowser();
if (browser !== null) process.env.CHROME_PATH = browser;

const bin = (...parts) => join(ROOT, "node_modules", ...parts);
const RESULTS = join(ROOT, "dist", "test-results.json");
const checks = [
  ["lint", [bin("@biomejs", "biome", "bin", "biome"), "check", "--error-on-warnings"]],
  ["dead code", [bin("knip", "bin", "knip.js")]],
  ["types of the tests", [bin("typescript", "bin", "tsc"), "-p", "tests", "--noEmit"]],
  [
    "types of the page",
    [bin("svelte-check", "bin", "svelte-check"), "--tsconfig", "web/tsconfig.json"],
  ],
];
let failed = 0;
let passed = 0;
for (const [name, args] of checks) {
  process.stderr.write(`bobweight: ${name} …\n`);
  if (tryRun(process.execPath, args) === 0) passed++;
  else {
    failed++;
    process.stderr.write(`bobweight: ${name} failed.\n`);
  }
}

const vitest = [bin("vitest", "vitest.mjs"), "run", "--reporter=default", "--reporter=json"];
tryRun(process.execPath, [...vitest, `--outputFile.json=${RESULTS}`, ...process.argv.slice(2)]);
try {
  const results = JSON.parse(readFileSync(RESULTS, "utf8"));
  passed += results.numPassedTests;
  // A file that could not even be loaded counts as a failure of its own.
  const unloaded = results.testResults.filter(
    ({ status, assertionResults }) =>
      status === "failed" && !assertionResults.some((one) => one.status === "failed"),
  ).length;
  failed += results.numTotalTests - results.numPassedTests + unloaded;
  if (results.numPassedTests === 0) failed++;
} catch {
  failed++;
}
process.stdout.write(`${passed} passed, ${failed} failed\n`);
process.exitCode = failed === 0 ? 0 : 1;
