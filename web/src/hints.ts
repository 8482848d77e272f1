// Which hints belong to what is in sight, in the order of the work. Pure.
import type { Path } from "./path.ts";

export const HINTS = [
  "card",
  "cautions",
  "start",
  "watch",
  "findings",
  "change",
  "again",
  "sheet",
] as const;
export type HintName = (typeof HINTS)[number];

/** What the bench shows. */
export type Stage =
  | { readonly at: "card" }
  | {
      readonly at: "start";
      readonly cautionsRead: boolean;
      /** After a change on the stand-in rig, where the change is another simulated unit. */
      readonly followsChange: boolean;
    }
  | { readonly at: "run" }
  | { readonly at: "result"; readonly path: Path };

export function hintsAt(stage: Stage): readonly HintName[] {
  switch (stage.at) {
    case "card":
      return ["card"];
    // The cautions' hint stays when they are ticked: nothing may move the start under a second click.
    case "start":
      return [
        ...(stage.followsChange ? (["again"] as const) : []),
        "cautions",
        ...(stage.cautionsRead ? (["start"] as const) : []),
      ];
    case "run":
      return ["watch"];
    case "result":
      return [
        ...(stage.path.findings === "done" && stage.path.change === "next"
          ? (["findings"] as const)
          : []),
        ...(stage.path.change === "next" ? (["change"] as const) : []),
        ...(stage.path.sheet === "next" ? (["sheet"] as const) : []),
      ];
  }
}

/** What is remembered of the hints. */
export interface Remembered {
  readonly isOn: boolean;
  readonly closed: readonly HintName[];
  /** Whoever said no to the invented job is not asked again. */
  readonly isDeclined: boolean;
}

const NOTHING: Remembered = { isOn: false, closed: [], isDeclined: false };

/** From the browser's storage: nothing where it holds no such thing. */
export function rememberedFrom(text: string | null): Remembered {
  if (text === null) return NOTHING;
  try {
    const { isOn, closed, isDeclined } = JSON.parse(text);
    return {
      isOn: isOn === true,
      closed: Array.isArray(closed) ? HINTS.filter((name) => closed.includes(name)) : [],
      isDeclined: isDeclined === true,
    };
  } catch {
    return NOTHING;
  }
}
