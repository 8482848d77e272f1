// A sheet as a document of its own: nothing in it runs, and its one style is the one that was meant.
import { createHash } from "node:crypto";
import type { FastifyReply } from "fastify";
import { hasLogo, sheetHtml } from "../../core/sheet/html.ts";
import type { Sheet } from "../../core/sheet/model.ts";
import { sheetStyle } from "../../core/sheet/style.ts";
import { documentPolicy } from "./gate.ts";
import { fresh } from "./routes.ts";

export function sendSheet(reply: FastifyReply, sheet: Sheet): FastifyReply {
  const styleSha256 = createHash("sha256").update(sheetStyle(sheet)).digest("base64");
  return fresh(reply)
    .header("content-security-policy", documentPolicy(styleSha256, hasLogo(sheet)))
    .type("text/html; charset=utf-8")
    .send(sheetHtml(sheet));
}
