// What can befall the bytes between host and rig, as data: which way, from when to when, how badly.
import type { Draw } from "../../accuracy/draw.ts";

/** One direction of the line. */
export type Way = "fromRig" | "toRig";

/** `share`: chance of each byte that it begins there. `bytesMax`: longest run of bytes that it takes. */
export type ByteTrouble =
  /** One bit of a byte is another. */
  | { readonly kind: "flipped"; readonly share: number }
  /** A run of bytes becomes other ones, as ignition noise makes it. */
  | { readonly kind: "burst"; readonly share: number; readonly bytesMax: number }
  | { readonly kind: "lost"; readonly share: number; readonly bytesMax: number }
  | { readonly kind: "doubled"; readonly share: number; readonly bytesMax: number }
  /** All bytes become other ones, and another number of them. */
  | { readonly kind: "wrong baud" }
  /** Further bytes come between, at a full line's speed: noise, or lines that nobody knows. */
  | { readonly kind: "flood"; readonly of: "noise" | "lines"; readonly bytesPerS: number };

export type TimeTrouble =
  /** In lumps of so many milliseconds, cut anywhere. */
  | { readonly kind: "merged"; readonly everyMs: number }
  | { readonly kind: "delayed"; readonly byMs: number }
  /** Nothing passes; what was held back comes at once afterwards, or never. */
  | { readonly kind: "stalled"; readonly kept: boolean };

export type LineTrouble =
  /**
   * Commands are answered, but turns stand still: no more of them come, or nothing but what came before,
   * again and again.
   */
  | { readonly kind: "frozen"; readonly repeats: boolean }
  /** Another device is on the port: one that prints text, or a rig of the same protocol that rests. */
  | { readonly kind: "other device"; readonly speaks: "text" | "protocol" }
  /** What the host sent shortly before comes once more. */
  | { readonly kind: "replayed"; readonly bytes: number }
  /** The cable is out, and in again at `toMs`; then perhaps under another name. */
  | { readonly kind: "unplugged"; readonly sameName: boolean };

export type Trouble = ByteTrouble | TimeTrouble | LineTrouble;

/** A trouble in its time, in milliseconds since the cable was first used. */
export type Fault = Trouble & {
  readonly ways: readonly Way[];
  readonly fromMs: number;
  readonly toMs: number;
};

export type FaultKind = Trouble["kind"];

/** Every kind, some of them likelier: the line is noisy more often than it is unplugged. */
const KINDS: readonly FaultKind[] = [
  "flipped",
  "flipped",
  "burst",
  "burst",
  "lost",
  "lost",
  "doubled",
  "doubled",
  "merged",
  "delayed",
  "stalled",
  "stalled",
  "flood",
  "wrong baud",
  "frozen",
  "frozen",
  "other device",
  "replayed",
  "unplugged",
];
const FAULTS_MAX = 4;

/** A few faults of any kinds within the first `spanMs` of a run. */
export function drawFaults(draw: Draw, spanMs: number): readonly Fault[] {
  return Array.from({ length: draw.whole(1, FAULTS_MAX) }, () =>
    drawFault(draw, draw.oneOf(KINDS), spanMs),
  );
}

function drawFault(draw: Draw, kind: FaultKind, spanMs: number): Fault {
  const trouble = drawTrouble(draw, kind);
  const ways = waysOf(draw, kind);
  // A line may be bad from the first byte on, and for the whole run where it still carries something.
  const fromMs = draw.chance(0.1) ? 0 : draw.uniform(0, spanMs);
  const lastsMs = lastsMsOf(draw, kind, spanMs);
  return { ...trouble, ways, fromMs, toMs: fromMs + lastsMs };
}

function waysOf(draw: Draw, kind: FaultKind): readonly Way[] {
  switch (kind) {
    case "frozen":
      return ["fromRig"];
    case "replayed":
      return ["toRig"];
    case "other device":
    case "unplugged":
      return ["fromRig", "toRig"];
    default:
      return draw.oneOf([["fromRig"], ["fromRig"], ["toRig"], ["fromRig", "toRig"]] as const);
  }
}

function lastsMsOf(draw: Draw, kind: FaultKind, spanMs: number): number {
  switch (kind) {
    case "flipped":
    case "burst":
    case "lost":
    case "doubled":
    case "merged":
    case "delayed":
      return draw.chance(0.3) ? spanMs : draw.logUniform(50, 20_000);
    case "stalled":
      return draw.logUniform(20, 3000);
    case "replayed":
      return 0;
    default:
      return draw.logUniform(20, 10_000);
  }
}

function drawTrouble(draw: Draw, kind: FaultKind): Trouble {
  switch (kind) {
    case "flipped":
      return { kind, share: draw.logUniform(1e-5, 3e-2) };
    case "burst":
      return { kind, share: draw.logUniform(1e-5, 1e-2), bytesMax: draw.whole(2, 60) };
    case "lost":
    case "doubled":
      return {
        kind,
        share: draw.logUniform(1e-5, 1e-2),
        bytesMax: draw.oneOf([1, 1, 20, 300, 3000]),
      };
    case "merged":
      return { kind, everyMs: draw.logUniform(10, 300) };
    case "delayed":
      return { kind, byMs: draw.logUniform(5, 400) };
    case "stalled":
      return { kind, kept: draw.chance(0.6) };
    case "wrong baud":
      return { kind };
    case "frozen":
      return { kind, repeats: draw.chance(0.7) };
    case "flood":
      return {
        kind,
        of: draw.oneOf(["noise", "lines"] as const),
        bytesPerS: draw.logUniform(5000, 100_000),
      };
    case "other device":
      return { kind, speaks: draw.oneOf(["text", "protocol"] as const) };
    case "replayed":
      return { kind, bytes: draw.whole(20, 400) };
    case "unplugged":
      return { kind, sameName: draw.chance(0.5) };
  }
}
