// The REST routes of the records on file: found, noted on, archived, and set in a row by unit.

import type { FastifyInstance } from "fastify";
import {
  archivingSchema,
  newNoteSchema,
  recordsQuerySchema,
  takingBackSchema,
} from "../../core/records/listedSchema.ts";
import { said } from "../../core/said.ts";
import type { Store } from "../store/store.ts";
import { checked } from "./clientMessages.ts";
import { type ById, fresh } from "./routes.ts";

interface ByNote {
  Params: { id: string; noteId: string };
}

export function addShelfRoutes(app: FastifyInstance, { shelf }: Store): void {
  app.get("/api/records", async (request, reply) => {
    const asked = checked(recordsQuerySchema, request.query, said("the query"));
    return fresh(reply).send(await shelf.list(asked, asked));
  });
  app.get<ById>("/api/records/:id/history", async (request, reply) =>
    fresh(reply).send(await shelf.history(request.params.id)),
  );
  app.get<ById>("/api/records/:id/notes", async (request, reply) =>
    fresh(reply).send(await shelf.notes(request.params.id)),
  );
  app.post<ById>("/api/records/:id/notes", async (request, reply) => {
    const { id } = request.params;
    await shelf.addNote(id, checked(newNoteSchema, request.body, said("the body")).text);
    return reply.code(201).send(await shelf.notes(id));
  });
  app.post<ByNote>("/api/records/:id/notes/:noteId/take-back", async (request, reply) => {
    const { id, noteId } = request.params;
    const { takenBack } = checked(takingBackSchema, request.body, said("the body"));
    await shelf.takeNoteBack(id, noteId, takenBack);
    return reply.send(await shelf.notes(id));
  });
  app.post<ById>("/api/records/:id/archive", async (request, reply) => {
    const { id } = request.params;
    await shelf.archive(id, checked(archivingSchema, request.body, said("the body")).archived);
    return reply.send(await shelf.notes(id));
  });
}
