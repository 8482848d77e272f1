// `bobweight rigs`: which ports and stand-in rigs there are, and what is known of a rig's errors. Opens nothing.
import type { Command } from "commander";
import { SerialPort } from "serialport";
import { calibrationFromBlock } from "../../core/calibration/calibrationFile.ts";
import type { PortChoice } from "../../core/messages.ts";
import { readJsonFile } from "../files.ts";
import { type RigFile, rigFromFile } from "../rigFile.ts";
import { checkText, checkTexts } from "./checkText.ts";
import { addCalibrate } from "./rigsCalibrate.ts";
import { addTest } from "./rigsTest.ts";
import { addWatch } from "./rigsWatch.ts";

export function addRigs(program: Command, exit: (status: number) => void): void {
  const rigs = program.command("rigs");
  rigs

    .description("list the serial ports of this computer and the stand-in rig; opens none")
    .option("--json", "print JSON")
    .action(async ({ json }: { json?: true }) => {
      const rigs = [
        { path: "stand-in", note: "simulation, no real rig" },
        ...(await serialPorts()),
      ];
      const text = json
        ? JSON.stringify(rigs, null, 2)
        : rigs.map(({ path, note }) => `${path}\t${note}`).join("\n");
      process.stdout.write(`${text}\n`);
      exit(0);
    });
  rigs
    .command("show")
    .description("print what is known of a rig's own errors: when it was checked, and how well")
    .argument("<file>", "rig file (*.rig.json)")
    .option("--json", "print JSON")
    .action((path: string, _: unknown, command: Command) => {
      // `rigs` knows --json too and takes it before `show` sees it.
      const { json } = command.optsWithGlobals<{ json?: true }>();
      process.stdout.write(`${shown(rigFromFile(readJsonFile(path), path), json === true)}\n`);
      exit(0);
    });
  addCalibrate(rigs, exit);
  addTest(rigs, exit);
  addWatch(rigs, exit);
}

function shown(rig: RigFile, json: boolean): string {
  const calibration = calibrationFromBlock(rig.calibration);
  const earlier = rig.earlierCalibrations ?? [];
  if (json) {
    const { name, kind } = rig;
    return JSON.stringify({ name, simulated: kind === "stand-in", calibration, earlier }, null, 2);
  }
  return [
    rig.kind === "stand-in" ? `${rig.name} (simulated)` : `${rig.name} on ${rig.path}`,
    ...checkTexts(calibration),
    ...earlier.map((one) => `earlier ${checkText(one)}`),
  ].join("\n");
}

/**
 * The computer's serial ports. None where they cannot be listed (on Linux that takes `udevadm`, which a small system
 * may lack): standard error says so, and a rig can still be named by its path.
 */
export async function serialPorts(list = () => SerialPort.list()): Promise<PortChoice[]> {
  const ports = await list().catch((error: Error) => {
    process.stderr.write(
      `bobweight: the serial ports could not be listed (${error.message}). Name the rig's port by its path: with --rig, or in a rig file.\n`,
    );
    return [];
  });
  return ports.map(({ path, manufacturer, serialNumber }) => ({
    path,
    note: [manufacturer, serialNumber].filter(Boolean).join(" "),
  }));
}
