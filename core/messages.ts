// What the page and the server say to each other: WebSocket messages on /live and the answers of the REST routes.
import type { CheckKind } from "./calibration/calibration.ts";
import type { Ending, RunDocument, Verdict } from "./documents.ts";
import type { Told } from "./errors.ts";
import type { Said } from "./said.ts";
import type { ConnectedContacts, ContactSets } from "./unit.ts";

/** Page to server. `alive` every 250 ms from the page that controls a run, from its own timer. */
export type ClientMessage =
  | {
      readonly type: "start";
      readonly rigId: string;
      readonly unitId: string;
      /** Only with the stand-in rig; null lets the stand-in play a sound unit that meets the specification. */
      readonly scenarioId: string | null;
      /** Stand-in only: how many times faster than life, 1 to 50. */
      readonly pace: number;
      readonly plan: PlanChanges | null;
      /** Which of two sets of contacts is connected; null for a unit with one, or to connect all. */
      readonly contacts: ConnectedContacts | null;
      /** The record of the same unit that a change came after; null: none. */
      readonly afterRecordId: string | null;
      /** The job that the record goes with; null: none. */
      readonly jobId: string | null;
      /** Both must be true: the user has ticked the cautions and pressed start. */
      readonly cautionsRead: boolean;
    }
  | { readonly type: "stop" }
  | { readonly type: "alive" };

/** What the user may change in the default plan; same form as a plan file. */
export type PlanChanges = Readonly<Record<string, unknown>>;

/** Server to page. On connecting: one `status`, then the documents of a running run so far. */
export type ServerMessage =
  | StatusMessage
  | { readonly type: "document"; readonly document: RunDocument }
  | ({ readonly type: "refused" } & Refusal);

/** Also the JSON body of every REST answer whose status is 400 or above. `text` says what to do. */
export type Refusal = Told;

export interface StatusMessage {
  readonly type: "status";
  /** Who controls the run in progress. `free` when none runs. */
  readonly control: "free" | "you" | "other";
  readonly running: boolean;
  readonly rigName: string | null;
  readonly simulated: boolean;
  /** Left out where all is kept on this computer. */
  readonly handOver?: HandOverState;
}

/** Of records on their way to the workshop's database. */
export interface HandOverState {
  /** Records that are on this bench alone as yet. */
  readonly waiting: number;
  /** Why; null: the database was reached. */
  readonly trouble: Told | null;
}

/** GET /api/choices */
export interface Choices {
  readonly rigs: readonly {
    readonly id: string;
    readonly name: string;
    readonly simulated: boolean;
    readonly note: string;
    /** The same, for other languages. */
    readonly noteSaid?: Said;
    /** When the rig's own errors were last checked, kind by kind; null: never. */
    readonly checks: readonly { readonly kind: CheckKind; readonly checkedUtc: string | null }[];
  }[];
  readonly units: readonly {
    readonly id: string;
    readonly description: string;
    readonly stampedNumber: string | null;
    readonly invented: boolean;
    /** It asks for a target of the user's own. */
    readonly ownTarget: boolean;
    /** Of a unit with two sets of contacts how they are arranged. */
    readonly contactSets: ContactSets["arrangement"] | null;
  }[];
  readonly scenarios: readonly {
    readonly id: string;
    readonly name: string;
    readonly note: string;
  }[];
  readonly cautions: readonly string[];
}

/** GET /api/ports: serial ports of this computer. */
export interface PortChoice {
  readonly path: string;
  /** Maker and serial number of the adapter, where it tells them; for people. */
  readonly note: string;
}

/** POST /api/units, answered with status 201 and `{ id }` as in Choices.units. */
export interface NewUnit {
  /** The file's name, for messages about its content. */
  readonly name: string;
  readonly text: string;
  /** The unit that this is a new version of, which records and the file keep; null: of none. */
  readonly replaces: string | null;
}

/** GET /api/units; GET /api/units/ID/unit.json answers with a unit file. */
export interface UnitsOnHand {
  /** All that can be chosen. */
  readonly units: readonly UnitOnHand[];
  /** What is wrong with unit files in the data folder that cannot be read, a sentence each. */
  readonly passedOver: readonly string[];
}

export interface UnitOnHand {
  readonly id: string;
  /** Content of the unit file. */
  readonly file: unknown;
  /** Null: one of the invented examples, or a file in the data folder. */
  readonly addedUtc: string | null;
  /** Of a file that lies in the data folder, which only a hand changes; null of all others. */
  readonly fileName: string | null;
  /** What it was before, the newest first. */
  readonly versions: readonly { readonly id: string; readonly addedUtc: string }[];
}

/** POST /api/by-hand, answered with status 201 and `{ id }` of the record. */
export interface NewByHand {
  readonly unitId: string;
  /** Readings and how they were taken, as `bobweight by-hand` has them. */
  readonly notes: string;
  /** The job that the record goes with; null: none. */
  readonly jobId: string | null;
}

/** POST /api/drawer, answered with status 201 and DrawerSpring[] (core/drawer/drawer.ts), as GET /api/drawer. */
export interface NewDrawer {
  /** The file's name, for messages about its content. */
  readonly name: string;
  /** CSV with the columns of core/drawer/drawerFile.ts. */
  readonly text: string;
}

/** GET /api/records answers as core/records/listed.ts has it. GET /api/records/ID answers `{ head: RecordHead, documents: RunDocument[] }`. GET /api/records/ID/earlier answers `EarlierRun[]` (core/sheet/earlier.ts). */
export interface RecordHead {
  readonly id: string;
  readonly startedUtc: string;
  readonly unitDescription: string;
  readonly stampedNumber: string | null;
  readonly rigName: string;
  /** Null of a record made before benches had names, or elsewhere. */
  readonly benchName: string | null;
  readonly simulated: boolean;
  /** Judged by a target of the user's own. */
  readonly ownTarget: boolean;
  /** Null while it runs, or where the program died before the end. */
  readonly ending: Ending | null;
  readonly verdict: Verdict | null;
}
// GET /records/ID/sheet.html?paper=a4|letter, /records/ID/curves.csv, /records/ID/record.json
// GET and POST /api/settings: Settings (core/settings/settings.ts)
// GET and POST /api/settings/logo: the picture itself; POST /api/settings/logo/take-off
// GET and POST /api/records/ID/engine: EngineAsked (core/engine/asked.ts), answered as `{ asked }`, null where nothing
// was kept. GET /records/ID/engine.html?asked=JSON&paper=a4|letter: the sheet of it
