// The job that lies open, and the list of all. Every change is answered with the job as it is then.
import { EMPTY_CARD, type JobCard } from "../../core/jobs/card.ts";
import type { Job, JobHead } from "../../core/jobs/job.ts";
import { PICTURE_TYPES } from "../../core/jobs/photo.ts";
import { inventedCard } from "./inventedJob.ts";
import type { Session } from "./session.svelte.ts";
import type { StartChoices } from "./startRequest.ts";
import { words } from "./words.ts";

/** Names the open job in the page's address, so that loading it anew opens it; the place stands behind it. */
const ASKED = "job";

export class JobDesk {
  job = $state.raw<Job | null>(null);
  /** The card is in sight, not what was measured. */
  isCardOpen = $state(false);
  list = $state.raw<readonly JobHead[]>([]);
  /** Whether `list` is what there is, not what is not known yet. */
  knowsList = $state(false);
  search = $state("");
  archived = $state(false);
  /** Keeps what is typed on the card that is open; false where it cannot be kept as it is. */
  keepTyped: (() => Promise<boolean>) | null = null;
  private readonly session: Session;
  /** The newest search asked for: answers may come in another order. */
  private asked = 0;

  constructor(session: Session) {
    this.session = session;
    const id = new URLSearchParams(location.search).get(ASKED);
    if (id !== null) void this.open(id);
  }

  async loadList(): Promise<void> {
    const own = ++this.asked;
    const query = new URLSearchParams({ search: this.search, archived: String(this.archived) });
    const heads = await this.session.ask<JobHead[]>(`/api/jobs?${query}`);
    if (heads === null || own !== this.asked) return;
    this.list = heads;
    this.knowsList = true;
  }

  async open(id: string): Promise<void> {
    const job = await this.session.ask<Job>(`/api/jobs/${encodeURIComponent(id)}`);
    if (job === null) return;
    this.take(job);
    // What runs stays in sight.
    if (this.session.running) return;
    this.session.clear();
    this.isCardOpen = job.records.length === 0;
    const last = job.records.at(-1);
    if (last !== undefined) await this.session.openRecord(last.id);
  }

  /** False where it could not be had. */
  async create(card: JobCard = EMPTY_CARD): Promise<boolean> {
    const job = await this.session.post<Job>("/api/jobs", card);
    if (job === null) return false;
    this.session.clear();
    this.take(job);
    this.isCardOpen = true;
    return true;
  }

  /** A job of our own invention on the stand-in rig, ready to be measured. */
  async createInvented(chosen: StartChoices): Promise<void> {
    const lists = await Promise.all(
      ["false", "true"].map((archived) =>
        this.session.ask<JobHead[]>(`/api/jobs?${new URLSearchParams({ search: "", archived })}`),
      ),
    );
    const taken = lists.flatMap((list) => list ?? []);
    if (!(await this.create(inventedCard(words.guide.card, taken)))) return;
    this.session.chosen = { ...chosen, jobId: this.session.chosen.jobId };
  }

  /** Away from the card, which keeps what was typed first; false where it stays open for a mistake in it. */
  async leaveCard(): Promise<boolean> {
    if (this.keepTyped !== null && !(await this.keepTyped())) return false;
    this.isCardOpen = false;
    return true;
  }

  async close(): Promise<void> {
    if (!(await this.leaveCard())) return;
    this.job = null;
    this.session.chosen.jobId = "";
    this.session.clear();
    history.replaceState(null, "", `${location.pathname}${location.hash}`);
    void this.loadList();
  }

  /** What the run in hand has added. */
  async reload(): Promise<void> {
    if (this.job === null) return;
    const job = await this.session.ask<Job>(`/api/jobs/${this.job.id}`);
    if (job !== null && job.id === this.job?.id) this.job = job;
  }

  save(card: JobCard): Promise<boolean> {
    return this.change("card", card);
  }

  undo(): Promise<boolean> {
    return this.change("undo", {});
  }

  archive(archived: boolean): Promise<boolean> {
    return this.change("archive", { archived });
  }

  attach(recordId: string): Promise<boolean> {
    return this.change("records", { recordId });
  }

  async addPhoto(file: File): Promise<void> {
    if (this.job === null) return;
    const type = PICTURE_TYPES.find((one) => one === file.type) ?? PICTURE_TYPES[0];
    const query = new URLSearchParams({ name: file.name.slice(0, 200) || "photo" });
    const job = await this.session.ask<Job>(`/api/jobs/${this.job.id}/photos?${query}`, {
      method: "POST",
      headers: { "content-type": type },
      body: file,
    });
    if (job !== null) this.take(job);
  }

  takePhotoOff(photoId: string): Promise<boolean> {
    return this.change(`photos/${photoId}/take-off`, {});
  }

  private async change(what: string, body: object): Promise<boolean> {
    if (this.job === null) return false;
    const job = await this.session.post<Job>(`/api/jobs/${this.job.id}/${what}`, body);
    if (job === null) return false;
    this.take(job);
    return true;
  }

  private take(job: Job): void {
    this.job = job;
    this.session.chosen.jobId = job.id;
    history.replaceState(null, "", `?${ASKED}=${encodeURIComponent(job.id)}${location.hash}`);
    void this.loadList();
  }
}
