// The REST routes under /api, and what becomes of errors. Nothing here changes anything on GET.

import type { FastifyInstance, FastifyReply } from "fastify";
import { z } from "zod";
import { BobweightError } from "../../core/errors.ts";
import type { NewByHand, PortChoice } from "../../core/messages.ts";
import { said } from "../../core/said.ts";
import type { Keeping } from "../keeping.ts";
import { earlierOf } from "../store/chain.ts";
import type { Store } from "../store/store.ts";
import type { Bench } from "./bench.ts";
import { checked } from "./clientMessages.ts";
import { refusalFrom, refusalOf, statusOf } from "./refusals.ts";

export interface RouteSources {
  readonly bench: Bench;
  readonly store: Store;
  readonly keeping: Keeping;
  /** Serial ports of this computer. */
  ports(): Promise<readonly PortChoice[]>;
  /** Throws FILE_NOT_JSON or FILE_INVALID where the text is no unit file. */
  checkUnit(text: string, name: string): void;
  /** Told of our own bugs. */
  report(error: unknown): void;
}

const NOTES_LENGTH_MAX = 20_000;

const newByHand: z.ZodType<NewByHand> = z.strictObject({
  unitId: z.string().min(1).max(200),
  notes: z.string().min(1).max(NOTES_LENGTH_MAX),
  jobId: z.string().min(1).max(200).nullable(),
});

export function addApiRoutes(app: FastifyInstance, sources: RouteSources): void {
  const { bench, store } = sources;
  app.get("/api/choices", async (_, reply) => fresh(reply).send(await bench.choices()));
  app.get("/api/ports", async (_, reply) => fresh(reply).send(await sources.ports()));
  app.get<ById>("/api/records/:id", async (request, reply) =>
    fresh(reply).send(await store.record(request.params.id)),
  );
  app.get<ById>("/api/records/:id/earlier", async (request, reply) =>
    fresh(reply).send(await earlierOf(store, (await store.record(request.params.id)).documents)),
  );
  app.post("/api/by-hand", async (request, reply) => {
    const asked = checked(newByHand, request.body, said("the body"));
    return reply.code(201).send({ id: await bench.byHand(asked) });
  });
}

export interface ById {
  Params: { id: string };
}

/** What changes from run to run is never taken from a cache. */
export function fresh(reply: FastifyReply): FastifyReply {
  return reply.header("cache-control", "no-store");
}

export function answerErrors(app: FastifyInstance, report: RouteSources["report"]): void {
  app.setNotFoundHandler((_, reply) =>
    reply.code(404).send(refusalOf("REQUEST_REFUSED", said("There is nothing at this address."))),
  );
  app.setErrorHandler((error, _, reply) => {
    if (error instanceof BobweightError) {
      return reply.code(statusOf(error)).send(refusalFrom(error, report));
    }
    // Fastify's own refusals: a body too large, a body that is no JSON.
    const status = error instanceof Error && "statusCode" in error ? Number(error.statusCode) : 500;
    return status >= 400 && status < 500
      ? reply.code(status).send(refusalOf("REQUEST_REFUSED", said("{}.", (error as Error).message)))
      : reply.code(500).send(refusalFrom(error, report));
  });
}
