// All that tests put into the system's folder for temporary files goes into one of their own, which goes with them.
import { chmodSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";

/** The names by which systems know that folder (`os.tmpdir`); tests' own processes inherit them. */
const VARIABLES = ["TMPDIR", "TMP", "TEMP"];

/** Before the first test of a project; what it gives is called after the last one. */
export default function setUp(): () => void {
  const before = VARIABLES.map((name) => [name, process.env[name]] as const);
  const folder = mkdtempSync(join(tmpdir(), "bobweight-tests-"));
  // Some tests start programs as another user, who has to get to what is theirs in it.
  chmodSync(folder, 0o711);
  for (const name of VARIABLES) process.env[name] = folder;
  return () => {
    for (const [name, value] of before) {
      if (value === undefined) delete process.env[name];
      else process.env[name] = value;
    }
    // A process that is still ending may write once more.
    rmSync(folder, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 });
  };
}
