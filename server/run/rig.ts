// The rig under a run: what commands go through, and what is known of it.
import type { RigKnowledge } from "../../core/angles/knowledge.ts";
import type { Direction } from "../../core/codec/rigLines.ts";
import type { RigLink } from "../link/rigLink.ts";
import type { LiveFeed } from "./live.ts";
import type { Watch } from "./watch.ts";

export interface Rig {
  readonly link: RigLink;
  readonly watch: Watch;
  readonly live: LiveFeed;
  readonly token: string;
  readonly tickHz: number;
  readonly direction: Direction;
  readonly rampRpmPerS: number;
  readonly knowledge: RigKnowledge;
}

/** Sends a command unless the run has been interrupted: after a stop nothing may start motion. */
export async function send(rig: Rig, command: Parameters<RigLink["command"]>[0]): Promise<void> {
  if (rig.watch.interruption !== null) throw rig.watch.interruption;
  await rig.link.command(command);
}
