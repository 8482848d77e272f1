// What the Help place has to say, in its order: the ids are also its addresses.
import { FINDING_KINDS, type FindingKind } from "../../../core/findings/finding.ts";

/** Groups of sections; findings have one for each kind there is. */
export const SECTIONS = {
  mechanism: ["weights", "capsule", "contacts"],
  readings: ["reference", "branches", "band", "doubt", "verdicts", "hold", "lobes", "dwell"],
  work: ["order", "change"],
  rest: ["cautions", "keyboard", "hints"],
  findings: FINDING_KINDS,
} as const;

export type GroupId = keyof typeof SECTIONS;
export type SectionId = Exclude<(typeof SECTIONS)[GroupId][number], FindingKind>;

export const GROUP_IDS = Object.keys(SECTIONS) as GroupId[];

/** The id of a heading is what its address ends in, so that the browser finds it by itself. */
export const elementIdOf = (section: string): string => `/help/${section}`;
