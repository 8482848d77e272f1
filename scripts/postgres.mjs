// Finds PostgreSQL's programs for the tests, which start a server of their own, or says how to come by them.
import { spawnSync } from "node:child_process";
import { existsSync } from "node:fs";
import { tryRun } from "./house.mjs";

const PROGRAMS = "/usr/lib/postgresql";

/** Installed by the system's package manager where that is allowed. */
export async function ensurePostgres() {
  if (existsSync(PROGRAMS)) return;
  const mayInstall =
    process.platform === "linux" &&
    process.getuid?.() === 0 &&
    spawnSync("apt-get", ["--version"]).status === 0;
  if (mayInstall) {
    process.stderr.write("bobweight: installing PostgreSQL for the tests of the store …\n");
    await tryRun("apt-get", ["update", "-qq"]);
    await tryRun("apt-get", ["install", "-y", "-qq", "--no-install-recommends", "postgresql"]);
  }
  if (existsSync(PROGRAMS)) return;
  process.stderr.write(
    "bobweight: no PostgreSQL was found in /usr/lib/postgresql. Install Debian's package postgresql, and run the tests again.\n",
  );
}
