// How a command is told which rig: a serial port's path, the stand-in, or a rig file.
import { readJsonFile } from "../files.ts";
import { DEFAULT_BAUD, type RigFile, rigFromFile, STAND_IN } from "../rigFile.ts";
import { wholeNumber } from "./numbers.ts";

export const RIG_CHOICE = "a serial port's path, `stand-in`, or a rig file (*.rig.json)";

export const BAUD_OPTION = [
  "--baud <n>",
  "speed of the serial port (default: 500000)",
  wholeNumber(1200, 4_000_000),
] as const;

/** `baud` wins over the rig file's. @throws FILE_UNREADABLE, FILE_NOT_JSON, FILE_INVALID */
export function rigNamed(rig: string, baud: number | undefined): RigFile {
  if (rig === "stand-in") return STAND_IN;
  if (rig.endsWith(".json")) {
    const file = rigFromFile(readJsonFile(rig), rig);
    return file.kind === "serial" && baud !== undefined ? { ...file, baud } : file;
  }
  return { kind: "serial", name: `Rig on ${rig}`, path: rig, baud: baud ?? DEFAULT_BAUD };
}
