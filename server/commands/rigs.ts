// `bobweight rigs`: which ports and stand-in rigs there are. Opens nothing.
import type { Command } from "commander";
import { SerialPort } from "serialport";
import type { PortChoice } from "../../core/messages.ts";

export function addRigs(program: Command, exit: (status: number) => void): void {
  program
    .command("rigs")
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
}

export async function serialPorts(): Promise<PortChoice[]> {
  const ports = await SerialPort.list();
  return ports.map(({ path, manufacturer, serialNumber }) => ({
    path,
    note: [manufacturer, serialNumber].filter(Boolean).join(" "),
  }));
}
