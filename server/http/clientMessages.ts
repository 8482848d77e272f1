// Reads what a page says on /live; anything but a message of messages.ts is refused.

import { z } from "zod";
import { BobweightError } from "../../core/errors.ts";
import { firstIssue, issueSaid } from "../../core/issue.ts";
import type { ClientMessage } from "../../core/messages.ts";
import { type Said, said } from "../../core/said.ts";
import { CONNECTED_CONTACTS } from "../../core/unit.ts";

const id = z.string().min(1).max(200);

const clientMessage: z.ZodType<ClientMessage> = z.discriminatedUnion("type", [
  z.strictObject({
    type: z.literal("start"),
    rigId: id,
    unitId: id,
    scenarioId: id.nullable(),
    pace: z.number().min(1).max(50),
    plan: z.record(z.string(), z.unknown()).nullable(),
    contacts: z.enum(CONNECTED_CONTACTS).nullable(),
    afterRecordId: id.nullable(),
    jobId: id.nullable(),
    cautionsRead: z.boolean(),
  }),
  z.strictObject({ type: z.literal("stop") }),
  z.strictObject({ type: z.literal("alive") }),
]);

/** @throws REQUEST_REFUSED naming the field. */
export function readClientMessage(text: string): ClientMessage {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch (cause) {
    throw new BobweightError("REQUEST_REFUSED", said("The message is not JSON."), { cause });
  }
  return checked(clientMessage, value, said("the message"));
}

/** @throws REQUEST_REFUSED naming `where` and the field. */
export function checked<T>(schema: z.ZodType<T>, value: unknown, where: Said): T {
  const result = schema.safeParse(value);
  if (result.success) return result.data;
  const issue = firstIssue(result.error);
  const field = issue.path.length === 0 ? "" : ` ${issue.path.join(".")}`;
  throw new BobweightError(
    "REQUEST_REFUSED",
    said("In {}{}: {}.", where, field, issueSaid(issue, value)),
  );
}
