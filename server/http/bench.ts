// What the server asks of the measuring side; the bench itself lives elsewhere and is handed in.
import type { EndDocument, RunDocument } from "../../core/documents.ts";
import type { BobweightError } from "../../core/errors.ts";
import type { Choices, ClientMessage, NewByHand, UnitsOnHand } from "../../core/messages.ts";

export type StartRequest = Omit<Extract<ClientMessage, { type: "start" }>, "type" | "cautionsRead">;

export interface Bench {
  choices(): Promise<Choices>;
  /** The units that can be chosen, with their files. */
  units(): Promise<UnitsOnHand>;
  /** Keeps a record of readings taken without a rig; its id. Throws NOTES_INVALID, FILE_INVALID. */
  byHand(asked: NewByHand): Promise<string>;
  /**
   * Begins a run, or rejects with a {@link BobweightError} before anything moved. Resolves before the
   * rig is armed, so that a stop asked for meanwhile comes in time. `emit` gets every document of the
   * run in order, the end document included, and must not be awaited.
   */
  start(request: StartRequest, emit: (document: RunDocument) => void): Promise<Run>;
}

export interface Run {
  /** Settles after the end document was emitted and the rig is at rest. */
  readonly ended: Promise<EndDocument>;
  /** May be called at any time and more than once; never throws. */
  stop(code: "STOPPED_BY_USER" | "STOPPED_PAGE_GONE"): void;
  /** Fresh sign of life from the controlling page. The bench stops by itself without it. */
  alive(): void;
}
