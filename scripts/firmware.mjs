// `npm run test:firmware`: builds images, simulator and program, then measures every bar of the firmware.
import { existsSync } from "node:fs";
import { join } from "node:path";
import { checkNode, ensureReady, ROOT, run } from "./house.mjs";

const TOOLS = ["make", "gcc", "avr-gcc", "avr-size", "mkfifo"];
const HEADER = "/usr/include/simavr/sim_avr.h";

checkNode();
const missing = TOOLS.filter(
  (tool) => !process.env.PATH.split(":").some((folder) => existsSync(join(folder, tool))),
);
if (missing.length > 0 || !existsSync(HEADER)) {
  const what = [...missing, ...(existsSync(HEADER) ? [] : ["libsimavr"])].join(", ");
  process.stderr.write(
    `bobweight: missing: ${what}. On Debian: apt-get install gcc make gcc-avr avr-libc libsimavr-dev\n`,
  );
  process.exit(69);
}
await ensureReady();
await run("make", ["--silent", "-C", join(ROOT, "firmware"), "trial"]);
await import("../dist/node/firmware/trial/main.js");
