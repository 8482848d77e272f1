// The records place: what is searched, what was found, what is ticked, and the one record that is looked into.
import type { RunDocument } from "../../core/documents.ts";
import { COMPARED_MAX, type ComparedRecord, comparedRecord } from "../../core/records/compare.ts";
import type {
  HistoryEntry,
  KIND_FILTERS,
  ListedRecord,
  RecordNotes,
  RecordsPage,
  VERDICT_FILTERS,
} from "../../core/records/listed.ts";
import { dayEndUtc, dayStartUtc } from "./days.ts";
import type { Session } from "./session.svelte.ts";

const AT_ONCE = 20;

export interface LookedInto {
  readonly id: string;
  readonly onFile: RecordNotes;
  /** Of its unit, itself included. */
  readonly history: readonly HistoryEntry[];
}

export class RecordDesk {
  text = $state("");
  verdict = $state<(typeof VERDICT_FILTERS)[number]>("any");
  kind = $state<(typeof KIND_FILTERS)[number]>("any");
  /** Days as the browser's own field gives them; empty: open. */
  fromDay = $state("");
  toDay = $state("");
  isArchived = $state(false);
  records = $state.raw<readonly ListedRecord[]>([]);
  /** Where older records go on; null: there are none. */
  before = $state.raw<string | null>(null);
  isSearching = $state(false);
  /** The newest search was answered: what is listed is what there is. */
  wasAnswered = $state(false);
  ticked = $state.raw<readonly string[]>([]);
  compared = $state.raw<readonly ComparedRecord[]>([]);
  into = $state.raw<LookedInto | null>(null);
  isFull = $derived(this.ticked.length >= COMPARED_MAX);
  private readonly session: Session;
  /** The newest search asked for: answers may come in another order. */
  private asked = 0;

  constructor(session: Session) {
    this.session = session;
  }

  /** From the newest on. */
  async load(): Promise<void> {
    await this.gather(null, []);
  }

  async more(): Promise<void> {
    await this.gather(this.before, this.records);
  }

  /** A search of many records answers in parts. */
  private async gather(from: string | null, known: readonly ListedRecord[]): Promise<void> {
    const own = ++this.asked;
    this.isSearching = true;
    let found = known;
    let before = from;
    let wasAnswered = true;
    do {
      const page = await this.session.ask<RecordsPage>(`/api/records?${this.query(before)}`);
      if (own !== this.asked) return;
      wasAnswered = page !== null;
      if (page === null) break;
      found = [...found, ...page.records];
      before = page.before;
    } while (before !== null && found.length - known.length < AT_ONCE);
    this.records = found;
    this.before = before;
    this.wasAnswered = wasAnswered;
    this.isSearching = false;
  }

  private query(before: string | null): URLSearchParams {
    const { text, verdict, kind, isArchived } = this;
    const query = new URLSearchParams({ limit: String(AT_ONCE), text, verdict, kind });
    query.set("archived", String(isArchived));
    const from = dayStartUtc(this.fromDay);
    const to = dayEndUtc(this.toDay);
    if (from !== null) query.set("from", from);
    if (to !== null) query.set("to", to);
    if (before !== null) query.set("before", before);
    return query;
  }

  tick(id: string, isTicked: boolean): void {
    this.ticked = isTicked ? [...this.ticked, id] : this.ticked.filter((one) => one !== id);
  }

  tickNewest(history: readonly HistoryEntry[]): void {
    this.ticked = history.slice(-COMPARED_MAX).map(({ id }) => id);
  }

  /** The ticked ones, the oldest first. */
  async compare(): Promise<void> {
    const records: ComparedRecord[] = [];
    // Keys sort by time.
    for (const id of [...this.ticked].sort()) {
      const answer = await this.session.ask<{ documents: RunDocument[] }>(`/api/records/${id}`);
      if (answer === null) return;
      records.push(comparedRecord(answer.documents));
    }
    this.compared = records;
  }

  endComparing(): void {
    this.compared = [];
    this.ticked = [];
  }

  async lookInto(id: string): Promise<void> {
    const onFile = await this.session.ask<RecordNotes>(`/api/records/${id}/notes`);
    const history = await this.session.ask<HistoryEntry[]>(`/api/records/${id}/history`);
    if (onFile !== null && history !== null) this.into = { id, onFile, history };
  }

  addNote(text: string): Promise<boolean> {
    return this.change("notes", { text });
  }

  takeNoteBack(noteId: string, takenBack: boolean): Promise<boolean> {
    return this.change(`notes/${noteId}/take-back`, { takenBack });
  }

  archive(archived: boolean): Promise<boolean> {
    return this.change("archive", { archived });
  }

  private async change(what: string, body: object): Promise<boolean> {
    const { into } = this;
    if (into === null) return false;
    const path = `/api/records/${into.id}/${what}`;
    const onFile = await this.session.post<RecordNotes>(path, body);
    if (onFile === null) return false;
    this.into = { ...into, onFile };
    void this.load();
    void this.session.loadRecords();
    return true;
  }
}
