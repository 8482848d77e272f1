// What a rig sent while a unit was driven through its speeds, as the bytes that arrived.

import { uncheckedRig } from "../accuracy/readings.ts";
import { driveThrough } from "../accuracy/standIn.ts";
import type { RigKnowledge } from "../core/angles/knowledge.ts";
import type { Hello } from "../core/codec/rigLines.ts";
import { unitFromFile } from "../core/unitFile.ts";

const CHUNK_BYTES = 256;
export const TURNS_PER_READING = 400;
export const UNIT = unitFromFile({ description: "bench", lobes: 4, rotation: "cw" }, "bench");
const SPEEDS_RPM = [300, 600, 1000, 1500, 2200, 3000, 4000];
const SECONDS = 20;

export interface Recording {
  readonly hello: Hello;
  readonly knowledge: RigKnowledge;
  readonly chunks: readonly Uint8Array[];
  readonly bytes: number;
}

/** `pickupEdges`: of the rig's pickup, a turn. */
export async function record(pickupEdges: number): Promise<Recording> {
  const scenario = {
    unit: { lobes: 4 },
    mechanism: { speedTable: [[0, 0]] },
    rig: { pickupEdges, eventJitterUs: 1.5, indexJitterUs: 1, sensorNoisePa: 25 },
  };
  const { hello, raw } = await driveThrough(
    scenario,
    SPEEDS_RPM.map((speedRpm) => ({ speedRpm, rampRpmPerS: 1000, waitS: 2, seconds: SECONDS })),
  );
  const whole = Buffer.concat(raw);
  const count = Math.ceil(whole.length / CHUNK_BYTES);
  const chunks = Array.from({ length: count }, (_, i) =>
    Uint8Array.from(whole.subarray(i * CHUNK_BYTES, (i + 1) * CHUNK_BYTES)),
  );
  return { hello, knowledge: uncheckedRig(hello, 1), chunks, bytes: whole.length };
}
