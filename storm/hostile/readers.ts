// Every reader of what comes from outside, each with good input to be turned hostile.
import { createHash } from "node:crypto";
import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { Draw } from "../../accuracy/draw.ts";
import { byHandNotes } from "../../core/byHand/notes.ts";
import { encodeLine, LineCutter } from "../../core/codec/framing.ts";
import { RigLineReader } from "../../core/codec/rigLineReader.ts";
import { drawerFromCsv } from "../../core/drawer/drawerFile.ts";
import { engineReadingsFromCsv } from "../../core/engine/readingsFile.ts";
import { withOwnTarget } from "../../core/ownTarget.ts";
import { planFor, walkLimits } from "../../core/planFile.ts";
import { FIRST_SETTINGS } from "../../core/settings/settings.ts";
import { parseJsonFile } from "../../core/unitFile/jsonText.ts";
import { unitFromFile } from "../../core/unitFile.ts";
import { makeByHandRecord } from "../../server/byHand.ts";
import { readClientMessage } from "../../server/http/clientMessages.ts";
import { projectFolder } from "../../server/measurement.ts";
import { bringRecordIn, recordFileText } from "../../server/recordFile.ts";
import { rigFromFile } from "../../server/rigFile.ts";
import { keepLogo, keepSettings } from "../../server/settings.ts";
import { provedBackup, writeBackup } from "../../server/store/backup.ts";
import { openStore } from "../../server/store/store.ts";
import { parseScenario } from "../../sim/scenario.ts";
import { mangled, mangledBytes, PNG } from "./mangle.ts";

export interface Reader {
  readonly name: string;
  /** Of all inputs, this many of a hundred or more; slow readers get fewer. */
  readonly share: number;
  /** Turns good input hostile, and reads it. */
  read(draw: Draw): unknown;
}

const EXAMPLES = join(projectFolder(), "examples");
const REACH = { speedMinRpm: 60, speedMaxRpm: 4500, vacuumMaxPa: 90_000, ambientPa: 101_300 };

const texts = (ending: string) =>
  readdirSync(EXAMPLES)
    .filter((name) => name.endsWith(ending))
    .map((name) => readFileSync(join(EXAMPLES, name), "utf8"));

/** A reader of text, of good ones like these. */
function of(
  name: string,
  share: number,
  good: readonly string[],
  read: (text: string) => unknown,
): Reader {
  const one = (draw: Draw) => good[draw.whole(0, good.length - 1)] as string;
  return { name, share, read: (draw) => read(mangled(draw, one(draw))) };
}

const MESSAGES = [
  {
    ...{ type: "start", rigId: "stand-in", unitId: "everyday", scenarioId: null, pace: 10 },
    ...{ plan: { speedsRpm: [500, 1000] }, contacts: null, afterRecordId: null, jobId: null },
    cautionsRead: true,
  },
  { type: "stop" },
  { type: "alive" },
].map((message) => JSON.stringify(message));

const LINES = [
  "hello,1,1,stand-in,5,1000000,50,1,36,3,60,4500,0,90000,1,1,101300",
  "state,1,1000,0,0,none,0,1,0,none",
  "vac,2,1000,0,0,vent",
  "rev,3,1000,1000,1000,1000,0,1,1,1,2,100b,200a",
];

const TYPED_ROWS = [
  "0 at 550",
  "5¼–7 at 1600",
  "14 at 2300",
  "max 14 by 2300",
  "no advance below 400",
];

/** `folder`: empty, for a store that the readers fill. */
export async function readersIn(folder: string): Promise<readonly Reader[]> {
  const units = texts(".unit.json");
  const [everyday = ""] = texts("everyday.unit.json");
  const unit = unitFromFile(parseJsonFile(everyday, "unit"), "unit");
  const store = await openStore(join(folder, "data"));
  const [notes = ""] = texts(".by-hand.txt");
  const made = makeByHandRecord(byHandNotes(notes, "notes"), {
    name: "unit",
    content: JSON.parse(everyday),
  });
  await store.bringIn({ ...made, raw: new Uint8Array(100) });
  const recordFile = await recordFileText(store, made.start.recordId);
  const backup = join(folder, "good.backup");
  await writeBackup(join(folder, "data"), backup);
  const backupBytes = readFileSync(backup);
  return [
    of("unit file", 20, units, (text) => {
      const read = unitFromFile(parseJsonFile(text, "unit"), "unit");
      walkLimits(planFor(read, REACH, null), read, REACH);
    }),
    of("plan file", 15, texts(".plan.json"), (text) => {
      walkLimits(planFor(unit, REACH, parseJsonFile(text, "plan"), "plan"), unit, REACH);
    }),
    of("scenario file", 10, texts(".scenario.json"), (text) =>
      parseScenario(parseJsonFile(text, "scenario"), "scenario"),
    ),
    of("rig file", 5, texts(".rig.json"), (text) => rigFromFile(parseJsonFile(text, "rig"), "rig")),
    of("drawer", 10, texts(".springs.csv"), (text) => drawerFromCsv(text, "drawer")),
    of("engine readings", 5, texts(".readings.csv"), (text) =>
      engineReadingsFromCsv(text, "readings"),
    ),
    of("readings by hand", 10, [notes], (text) => byHandNotes(text, "notes")),
    of("page's message", 10, MESSAGES, readClientMessage),
    of("typed rows", 10, [TYPED_ROWS.join("\n")], (text) => {
      const rows = text.split("\n");
      const target = { rows, degrees: null, rpm: null, toleranceDeg: null, initialDeg: null };
      unitFromFile(withOwnTarget(JSON.parse(everyday), target), "unit");
    }),
    of("settings", 1, [JSON.stringify(FIRST_SETTINGS)], (text) =>
      keepSettings(store, parseJsonFile(text, "settings")),
    ),
    of("record file", 1, [recordFile], (text) =>
      bringRecordIn(store, parseJsonFile(text, "record"), "record"),
    ),
    { name: "record's documents", share: 2, read: (draw) => readSigned(draw, recordFile) },
    { name: "logo", share: 1, read: (draw) => keepLogo(store, mangledBytes(draw, PNG)) },
    { name: "rig's lines", share: 10, read: readLines },
    {
      name: "backup",
      share: 0.1,
      read: (draw) => {
        const path = join(folder, "hostile.backup");
        writeFileSync(path, mangledBytes(draw, backupBytes));
        return provedBackup(path);
      },
    },
  ];

  /** With the fingerprint of what it has become: whoever wants to can write one. */
  function readSigned(draw: Draw, text: string): unknown {
    const file = JSON.parse(text);
    const documents = mangled(draw, JSON.stringify(file.documents));
    const fingerprint = createHash("sha256").update(documents).digest("hex");
    const signed = JSON.stringify({ ...file, documents: null, documentsSha256: fingerprint });
    const whole = signed.replace('"documents":null', () => `"documents":${documents}`);
    return bringRecordIn(store, parseJsonFile(whole, "record"), "record");
  }
}

/** Whatever comes over a wire is read without a complaint: bad lines are counted. */
function readLines(draw: Draw): void {
  const reader = new RigLineReader();
  const cutter = new LineCutter((bytes, from, to) => {
    reader.read(bytes, from, to);
  });
  const bodies = LINES.map((line) => {
    const body = mangled(draw, line)
      .replace(/[^\x20-\x7e]|\*/g, "?")
      .slice(0, 200);
    // Half of them with a sum that is right, so that what is in the line has to be read.
    return draw.chance(0.5) ? encodeLine(body) : Buffer.from(`${body}*00000000\n`);
  });
  cutter.push(mangledBytes(draw, Buffer.concat(bodies)));
  for (const body of bodies) cutter.push(body);
}
