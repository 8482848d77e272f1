// Records written one after another through the store's own writer, each step acknowledged once it has returned.
import { readFileSync } from "node:fs";
import type { Draw } from "../../accuracy/draw.ts";
import { byHandNotes } from "../../core/byHand/notes.ts";
import { makeByHandRecord } from "../../server/byHand.ts";
import { newKey } from "../../server/store/keys.ts";
import type { Store } from "../../server/store/store.ts";
import { type Acknowledged, digestOf, rawBytes } from "./acknowledged.ts";

const EXAMPLES = new URL("../../../../examples/", import.meta.url);

export interface Writing {
  readonly store: Store;
  readonly draw: Draw;
  acknowledge(one: Acknowledged): void;
  /** Between two writes, as a rig's lines come. */
  pause(): Promise<void>;
}

const RAW_BYTES_MAX = 4000;

/** One record of a length that is drawn, with raw lines between its documents. */
export async function writeRecord({ store, draw, acknowledge, pause }: Writing): Promise<void> {
  const { start, middle, end } = template();
  const id = newKey();
  const nowMs = () => performance.timeOrigin + performance.now();
  const begun = { ...start, recordId: id };
  const writer = store.begin(begun, { nowMs });
  acknowledge({ what: "record", id, digest: digestOf(begun) });
  let bytes = 0;
  const documents = draw.whole(5, 120);
  for (let sequence = 0; sequence < documents; sequence++) {
    const document = middle[sequence % middle.length] as (typeof middle)[number];
    writer.append(document);
    acknowledge({ what: "document", id, sequence, digest: digestOf(document) });
    const more = draw.whole(1, RAW_BYTES_MAX);
    const ms = nowMs();
    writer.raw(rawBytes(bytes, bytes + more));
    bytes += more;
    acknowledge({ what: "raw", id, bytes, ms });
    await pause();
  }
  writer.end(end);
  acknowledge({ what: "end", id, digest: digestOf(end) });
}

/** A text as long as a logo, or the drawer: a write of many pages at once. */
export async function writeText({ store, draw, acknowledge }: Writing): Promise<void> {
  const content = Buffer.from(rawBytes(0, draw.whole(1000, 150_000))).toString("base64");
  const one = { what: "text", name: `storm ${draw.seed()}`, content } as const;
  await store.keepText(one.name, content);
  acknowledge(one);
}

let made: ReturnType<typeof makeByHandRecord> | null = null;

/** The documents of a real record, made from the invented notes among the examples. */
function template(): ReturnType<typeof makeByHandRecord> {
  const read = (name: string) => readFileSync(new URL(name, EXAMPLES), "utf8");
  made ??= makeByHandRecord(byHandNotes(read("invented-timing-light.by-hand.txt"), "notes"), {
    name: "unit",
    content: JSON.parse(read("everyday.unit.json")),
  });
  return made;
}
