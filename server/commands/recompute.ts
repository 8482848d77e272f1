// `bobweight recompute`: a record's numbers once more from the bytes that came from the rig.
import type { Command } from "commander";
import { type ComparedReading, type Comparison, compare } from "../../core/comparison.ts";
import type { StartDocument } from "../../core/documents.ts";
import { replay } from "../../core/replay.ts";
import { engineVersion } from "../measurement.ts";
import { DATA_OPTION, openData, recordIdOf } from "./data.ts";

interface RecomputeOptions {
  readonly json?: true;
  readonly data?: string;
}

const HELP = `
The record itself is never changed. With the version that recorded it, every number must come out the
same; with another version, what moved is listed.

Exit status: 0 the same, or another version to compare with, 1 not the same though it should be,
65 no such record or its raw lines are incomplete, 74 storage.`;

export function addRecompute(program: Command, exit: (status: number) => void): void {
  program
    .command("recompute")
    .description(
      "compute a record again from its raw lines and compare; without a record, the newest",
    )
    .argument("[record]", "a record's id, or `newest`")
    .option("--json", "print one JSON object on standard output")
    .option(...DATA_OPTION)
    .addHelpText("after", HELP)
    .action(async (record: string | undefined, options: RecomputeOptions) =>
      exit(await recompute(record, options)),
    );
}

async function recompute(
  record: string | undefined,
  { data, json }: RecomputeOptions,
): Promise<number> {
  const { store } = await openData(data);
  try {
    const id = await recordIdOf(store, record);
    const { documents } = await store.record(id);
    const start = documents[0] as StartDocument;
    const comparison = compare(start.unit, documents, replay(documents, await store.rawLines(id)));
    const version = engineVersion();
    const sameVersion = start.engineVersion === version;
    if (json) {
      const report = { recordId: id, recordedVersion: start.engineVersion, version, ...comparison };
      process.stdout.write(`${JSON.stringify(report, null, 2)}\n`);
    } else {
      process.stdout.write(comparison.same ? "the same\n" : listed(comparison));
    }
    process.stderr.write(`${talk(comparison, id, start.engineVersion, version)}\n`);
    return comparison.same || !sameVersion ? 0 : 1;
  } finally {
    await store.close();
  }
}

function talk({ readings, same }: Comparison, id: string, recorded: string, now: string): string {
  const versions =
    recorded === now ? `both version ${now}` : `recorded by version ${recorded}, now ${now}`;
  const moved = readings.filter((reading) => !reading.same).length;
  const outcome = same ? "all the same" : `${moved} of them differ`;
  return `Record ${id}: ${readings.length} readings computed again, ${outcome} (${versions}).`;
}

function listed({ readings, holdsSame, recordedVerdict, verdict }: Comparison): string {
  const moved = readings.filter((reading) => !reading.same).map(line);
  const hold = holdsSame ? [] : ["hold test\tdiffers"];
  const verdicts = `verdict\t${recordedVerdict ?? "not judged"}\t${verdict ?? "not judged"}`;
  return [...moved, ...hold, verdicts].map((text) => `${text}\n`).join("");
}

function line(reading: ComparedReading): string {
  const { sweep, branch, targetRpm, targetPa, recordedAdvanceDeg, advanceDeg } = reading;
  const place = targetPa === null ? `${targetRpm} rpm` : `${targetPa / 1000} kPa`;
  const difference = (advanceDeg - recordedAdvanceDeg).toFixed(4);
  return [sweep, branch ?? "", place, recordedAdvanceDeg, advanceDeg, difference].join("\t");
}
