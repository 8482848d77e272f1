// Shapes beside colours and words, so that neither verdict nor standing ever hangs on colour alone. Pure.
import type { Verdict } from "../../core/documents.ts";
import type { Standing } from "./path.ts";

export const verdictShape = (verdict: Verdict | null): string =>
  verdict === "within" ? "✓" : verdict === "outside" ? "✗" : verdict === "unproven" ? "≈" : "–";

export const standingShape: Readonly<Record<Standing, string>> = {
  done: "✓",
  now: "▶",
  next: "→",
  open: "·",
  none: "–",
};
