// So much at once and so much a second, for each who asks: a page never comes near it, a flood does.

interface Bucket {
  left: number;
  atMs: number;
}

/** Whoever has been still for so long starts anew. */
const FORGET_MS = 60_000;

export class Rate {
  private readonly burst: number;
  private readonly perS: number;
  private readonly buckets = new Map<string, Bucket>();
  private sweptMs = 0;

  constructor(burst: number, perS: number) {
    this.burst = burst;
    this.perS = perS;
  }

  /** One more of whoever; false: it is too much. `nowMs`: of any clock that does not go back. */
  takes(who: string, nowMs: number): boolean {
    this.sweep(nowMs);
    const bucket = this.buckets.get(who) ?? { left: this.burst, atMs: nowMs };
    this.buckets.set(who, bucket);
    const gained = ((nowMs - bucket.atMs) / 1000) * this.perS;
    bucket.left = Math.min(this.burst, bucket.left + gained);
    bucket.atMs = nowMs;
    if (bucket.left < 1) return false;
    bucket.left--;
    return true;
  }

  private sweep(nowMs: number): void {
    if (nowMs - this.sweptMs < FORGET_MS) return;
    this.sweptMs = nowMs;
    for (const [who, { atMs }] of this.buckets) {
      if (nowMs - atMs > FORGET_MS) this.buckets.delete(who);
    }
  }
}
