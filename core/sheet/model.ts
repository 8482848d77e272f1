// The test sheet as data: blocks in reading order, which html.ts prints. Pure.

import type { Verdict } from "../documents.ts";
import type { Language } from "../language.ts";
import type { Logo } from "../settings/logo.ts";

export const PAPERS = ["a4", "letter"] as const;
export type Paper = (typeof PAPERS)[number];

export interface Sheet {
  readonly title: string;
  readonly language: Language;
  readonly paper: Paper;
  /** Small where all has to find room on one page; smallest where even that would not do. */
  readonly print: "usual" | "small" | "smallest";
  readonly blocks: readonly Block[];
  /** At the foot of every page, so that a page alone cannot be taken for something else. */
  readonly foot: string;
}

/** Whose sheet it is. */
export interface Letterhead {
  readonly name: string;
  /** Address and the like, below the name. */
  readonly lines: readonly string[];
  readonly logo: Logo | null;
}

export type Block =
  | ({ readonly kind: "letterhead" } & Letterhead)
  | { readonly kind: "title"; readonly text: string; readonly aside: string }
  | { readonly kind: "heading"; readonly text: string }
  /** Something that must not be overlooked. */
  | { readonly kind: "banner"; readonly text: string; readonly detail: string }
  | {
      readonly kind: "verdict";
      readonly verdict: Verdict | null;
      readonly text: string;
      readonly details: readonly string[];
    }
  | { readonly kind: "facts"; readonly facts: readonly Fact[] }
  /** Side by side, as many in a line as fit. */
  | { readonly kind: "pictures"; readonly pictures: readonly Picture[] }
  /** What solid, dashed and grey mean in the pictures. */
  | {
      readonly kind: "key";
      /** Those that stand in a picture. */
      readonly looks: readonly Line["look"][];
      readonly isMarked: boolean;
    }
  /** Side by side. */
  | { readonly kind: "tables"; readonly tables: readonly Table[] }
  | { readonly kind: "paragraph"; readonly text: string }
  | { readonly kind: "list"; readonly items: readonly string[] }
  | { readonly kind: "numbered list"; readonly items: readonly string[] }
  | Tag;

/** To be cut out and tied to the unit. */
export interface Tag {
  readonly kind: "tag";
  /** Whose it is; empty where that is not said. */
  readonly workshop: string;
  readonly title: string;
  readonly aside: string;
  /** Must not be overlooked: simulated, by hand and the like; empty where there is nothing of the kind. */
  readonly warning: string;
  readonly verdict: Verdict | null;
  readonly text: string;
  readonly facts: readonly Fact[];
  readonly note: string;
}

export interface Fact {
  readonly label: string;
  readonly value: string;
}

export interface Table {
  readonly caption: string;
  /** Heads above the columns' heads, each over so many columns. */
  readonly groups: readonly { readonly text: string; readonly columns: number }[];
  readonly columns: readonly { readonly head: string; readonly align: "left" | "right" }[];
  readonly rows: readonly {
    readonly cells: readonly string[];
    /** Set in bold: a row that is not within. */
    readonly strong: boolean;
  }[];
}

export interface Picture {
  readonly title: string;
  /** What is in it beside its readings, for who hears it read. */
  readonly shows: readonly string[];
  /** `broad` and `narrow` share a line, two to one. */
  readonly width: "full" | "broad" | "narrow";
  /** Less high, where many have to find room on the page. */
  readonly low: boolean;
  readonly x: Axis;
  readonly y: Axis;
  readonly lines: readonly Line[];
  readonly bars: readonly Bar[];
  readonly marks: readonly Mark[];
}

/** A reading that speaks for a finding. */
export interface Mark {
  readonly x: number;
  readonly y: number;
  /** Numbers of the findings. */
  readonly label: string;
  /** On which side of the reading the label has room. */
  readonly labelSide: "upper left" | "lower right";
}

export interface Axis {
  readonly label: string;
  readonly min: number;
  readonly max: number;
  /** Between two marks; min and max are multiples of it. */
  readonly step: number;
  /** Left out: a point. */
  readonly decimalMark?: string;
  /** The same marks at the crankshaft, on the far side of the picture. */
  readonly crankshaft: { readonly label: string; readonly factor: number } | null;
}

export interface Line {
  /** `trace` and `fitted`: without markers. */
  readonly look: "rising" | "falling" | "trace" | "fitted" | "as received" | "before";
  readonly points: readonly (readonly [x: number, y: number])[];
}

/** A printed row in the picture's units. A null limit is open on that side. */
export interface Bar {
  /** Both the same: an upright bar. */
  readonly fromX: number;
  readonly toX: number;
  readonly min: number | null;
  readonly max: number | null;
  /** A word beside the bar; empty where the row is within or not judged. */
  readonly flag: string;
}
