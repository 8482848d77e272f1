// Words that several parts of the page use.
import type { Ending } from "../../../../core/documents.ts";
import type { Branch } from "../../../../core/unit.ts";

export const ENDINGS: Readonly<Record<Ending, string>> = {
  completed: "Completed",
  stopped: "Stopped",
  "rig fault": "Ended by a rig fault",
  "link lost": "Ended because the link to the rig was lost",
};
export const BRANCHES: Readonly<Record<Branch, string>> = { rising: "rising", falling: "falling" };
