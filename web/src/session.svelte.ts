// The page's link to the server: status, the run's documents, and what the user asks for.
import type { RunDocument, StartDocument } from "../../core/documents.ts";
import type {
  Choices,
  ClientMessage,
  NewByHand,
  NewUnit,
  RecordHead,
  Refusal,
  ServerMessage,
  StatusMessage,
} from "../../core/messages.ts";
import type { RecordsPage } from "../../core/records/listed.ts";
import { LOGO_TYPES } from "../../core/settings/logo.ts";
import type { KeptSettings, Settings } from "../../core/settings/settings.ts";
import type { EarlierRun } from "../../core/sheet/earlier.ts";
import { emptyRun, isUnderWay, mergeAll, mergeDocument, type RunView } from "./runView.ts";
import { firstChoices, followingChoices, type StartMessage, withFirstRig } from "./startRequest.ts";

const RECONNECT_MS = 1000;
/** How often the age of the live numbers is looked at. */
const CLOCK_MS = 250;
/** A rig is at rest or silent by then (protocol part 6). */
const STOP_ANSWER_MS = 4000;

export class Session {
  connected = $state(false);
  status = $state.raw<StatusMessage | null>(null);
  view = $state.raw<RunView>(emptyRun);
  /** A record opened from the list instead of the run; null: none. */
  opened = $state.raw<RunView | null>(null);
  choices = $state.raw<Choices | null>(null);
  /** Kept from one run to the next, and where a start was refused. */
  chosen = $state({ ...firstChoices });
  rig = $derived(this.choices?.rigs.find(({ id }) => id === this.chosen.rigId) ?? null);
  records = $state.raw<readonly RecordHead[]>([]);
  /** Whether `records` is what there is, not what is not known yet. */
  knowsRecords = $state(false);
  refusal = $state.raw<Refusal | null>(null);
  starting = $state(false);
  stopping = $state(false);
  /** A stop that could not be sent; it goes out first when the page is connected again. */
  stopUnsent = $state(false);
  /** The server gave no answer to a request of the page. */
  unanswered = $state(false);
  /** Runs are shown to be read across the shop. */
  isLarge = $state(false);
  nowMs = $state(performance.now());
  /**
   * From asking for a start to the end. While the page is not connected it cannot know, and a run whose
   * end it has not seen counts as running.
   */
  running = $derived(this.starting || (this.status?.running ?? isUnderWay(this.view)));
  private socket: WebSocket | null = null;
  private stopSentMs = $state(0);
  /** The server has the stop, or hangs: too long without the end of the run. */
  stopUnanswered = $derived(this.stopping && this.nowMs - this.stopSentMs > STOP_ANSWER_MS);

  settings: KeptSettings;
  private isRigChosen = false;

  constructor(settings: KeptSettings) {
    this.settings = settings;
    this.connect();
    const worker = new Worker(new URL("./heartbeat.worker.ts", import.meta.url), {
      type: "module",
    });
    worker.onmessage = () => {
      if (this.status?.control === "you") this.say({ type: "alive" });
    };
    setInterval(() => {
      this.nowMs = performance.now();
    }, CLOCK_MS);
  }

  start(message: StartMessage): void {
    this.refusal = null;
    if (!this.say(message)) return;
    this.starting = true;
    this.stopping = false;
    this.opened = null;
    this.view = emptyRun;
  }

  /** Never asks, never waits. */
  stop(): void {
    const sent = this.say({ type: "stop" });
    // A second press does not make the first one younger.
    if (!this.stopping) this.stopSentMs = performance.now();
    this.stopping = sent && this.running;
    this.stopUnsent = !sent;
  }

  clear(): void {
    this.view = emptyRun;
    this.opened = null;
    this.refusal = null;
  }

  /** On to measuring the same unit again, after a change. */
  measureAgain({ start }: RunView): void {
    if (start !== null) this.chosen = followingChoices(this.chosen, start, this.choices);
    this.clear();
  }

  async openRecord(id: string): Promise<void> {
    const view = await this.recordView(id);
    // What began to run meanwhile is what the page shows.
    if (!this.running) this.opened = view;
  }

  /** The run came to its end while the page was not connected: its record tells how. */
  private async recoverEnd(id: string): Promise<void> {
    const view = await this.recordView(id);
    if (view !== null && this.view.start?.recordId === id) this.view = view;
    await this.loadRecords();
  }

  private async recordView(id: string): Promise<RunView | null> {
    const answer = await this.ask<{ documents: RunDocument[] }>(`/api/records/${id}`);
    if (answer === null) return null;
    const view = mergeAll(answer.documents);
    return { ...view, earlier: await this.earlierRuns(view.start) };
  }

  /** None where they cannot be had: the run itself is shown all the same. */
  private async earlierRuns(start: StartDocument | null): Promise<readonly EarlierRun[]> {
    if (start === null || start.afterRecordId === null) return [];
    return (await this.ask<EarlierRun[]>(`/api/records/${start.recordId}/earlier`)) ?? [];
  }

  private async loadEarlier(start: StartDocument): Promise<void> {
    const earlier = await this.earlierRuns(start);
    if (this.view.start?.recordId === start.recordId) this.view = { ...this.view, earlier };
  }

  async loadChoices(): Promise<void> {
    const choices = await this.ask<Choices>("/api/choices");
    if (choices === null) return;
    this.choices = choices;
    // Once: later on what was chosen stands.
    if (!this.isRigChosen) this.chosen = withFirstRig(this.chosen, this.settings, choices);
    this.isRigChosen = true;
  }

  /** The newest: what a run can follow. */
  async loadRecords(): Promise<void> {
    const page = await this.ask<RecordsPage>("/api/records");
    if (page !== null) this.records = page.records;
  }

  /** Keeps a unit file; gives its id, or null where it was refused. */
  async addUnit(
    name: string,
    text: string,
    replaces: string | null = null,
  ): Promise<string | null> {
    const unit: NewUnit = { name, text, replaces };
    const answer = await this.post<{ id: string }>("/api/units", unit);
    if (answer !== null) await this.loadChoices();
    return answer?.id ?? null;
  }

  /** Keeps and opens a record of readings taken by hand; false where they were refused. */
  async judgeByHand(unitId: string, notes: string): Promise<boolean> {
    const jobId = this.chosen.jobId === "" ? null : this.chosen.jobId;
    const asked: NewByHand = { unitId, notes, jobId };
    const answer = await this.post<{ id: string }>("/api/by-hand", asked);
    if (answer === null) return false;
    await this.openRecord(answer.id);
    await this.loadRecords();
    return true;
  }

  /** False where they were refused. */
  async keepSettings(settings: Settings): Promise<boolean> {
    const kept = await this.post<KeptSettings>("/api/settings", settings);
    if (kept !== null) this.settings = kept;
    return kept !== null;
  }

  /** False where it was refused. */
  async keepLogo(file: File): Promise<boolean> {
    const type = LOGO_TYPES.find((one) => one === file.type) ?? LOGO_TYPES[0];
    const headers = { "content-type": type };
    const asked = { method: "POST", headers, body: file };
    if ((await this.ask("/api/settings/logo", asked)) === null) return false;
    this.settings = { ...this.settings, hasLogo: true };
    return true;
  }

  async takeLogoOff(): Promise<boolean> {
    if ((await this.post("/api/settings/logo/take-off", {})) === null) return false;
    this.settings = { ...this.settings, hasLogo: false };
    return true;
  }

  post<T>(path: string, body: object): Promise<T | null> {
    const headers = { "content-type": "application/json" };
    return this.ask<T>(path, { method: "POST", headers, body: JSON.stringify(body) });
  }

  /** Null where it was refused or not answered, which the page then says. */
  async ask<T>(path: string, request?: RequestInit): Promise<T | null> {
    try {
      const response = await fetch(path, request);
      const body = await response.json();
      this.unanswered = false;
      if (response.ok) {
        this.refusal = null;
        return body as T;
      }
      this.refusal = body as Refusal;
    } catch {
      this.unanswered = true;
    }
    return null;
  }

  /** False where it could not be handed to the connection. */
  private say(message: ClientMessage): boolean {
    if (this.socket?.readyState !== WebSocket.OPEN) return false;
    this.socket.send(JSON.stringify(message));
    return true;
  }

  private connect(): void {
    const scheme = location.protocol === "https:" ? "wss" : "ws";
    const socket = new WebSocket(`${scheme}://${location.host}/live`);
    this.socket = socket;
    socket.onopen = () => {
      this.connected = true;
      if (this.stopUnsent) this.stop();
      this.loadLists();
    };
    socket.onmessage = ({ data }) => this.take(JSON.parse(String(data)) as ServerMessage);
    socket.onclose = () => {
      this.connected = false;
      this.status = null;
      this.starting = false;
      setTimeout(() => this.connect(), RECONNECT_MS);
    };
  }

  private loadLists(): void {
    void this.loadChoices();
    void this.loadRecords().then(() => {
      this.knowsRecords = true;
    });
  }

  private take(message: ServerMessage): void {
    switch (message.type) {
      case "status":
        // What could not be had while the workshop's database was away.
        if (this.status?.handOver?.trouble && !message.handOver?.trouble) this.loadLists();
        this.status = message;
        if (message.running) return;
        this.stopping = false;
        if (isUnderWay(this.view)) void this.recoverEnd(this.view.start?.recordId ?? "");
        return;
      case "document":
        this.view = mergeDocument(this.view, message.document, performance.now());
        if (message.document.type === "start") {
          this.starting = false;
          this.opened = null;
          // The next run is said anew to follow a record, or follows none.
          this.chosen.afterRecordId = "";
          void this.loadEarlier(message.document);
        }
        if (message.document.type === "end") void this.loadRecords();
        return;
      case "refused":
        this.starting = false;
        this.refusal = message;
        return;
    }
  }
}
