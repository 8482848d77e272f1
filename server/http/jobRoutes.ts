// The REST routes of jobs: list, card, edits taken back, archive, records and photos.

import type { FastifyInstance } from "fastify";
import { z } from "zod";
import { BobweightError } from "../../core/errors.ts";
import { firstIssue, issueSaid } from "../../core/issue.ts";
import { cardSchema } from "../../core/jobs/cardSchema.ts";
import { PHOTO_BYTES_MAX, PICTURE_TYPES, pictureType } from "../../core/jobs/photo.ts";
import { said } from "../../core/said.ts";
import type { JobStore } from "../store/jobs.ts";
import type { Store } from "../store/store.ts";
import { checked } from "./clientMessages.ts";
import { type ById, fresh } from "./routes.ts";

const SEARCH_LENGTH_MAX = 200;
const id = z.string().min(1).max(200);

const listQuery = z.strictObject({
  search: z.string().max(SEARCH_LENGTH_MAX).default(""),
  archived: z.enum(["true", "false"]).default("false"),
});
const archiving = z.strictObject({ archived: z.boolean() });
const attaching = z.strictObject({ recordId: id });
const photoQuery = z.strictObject({ name: z.string().trim().min(1).max(200).default("photo") });

interface ByPhoto {
  Params: { id: string; photoId: string };
}

/** Every change is answered with the job as it is now. */
export function addJobRoutes(app: FastifyInstance, { jobs }: Store): void {
  app.get("/api/jobs", async (request, reply) => {
    const { search, archived } = checked(listQuery, request.query, said("the query"));
    return fresh(reply).send(await jobs.list({ search, archived: archived === "true" }));
  });
  app.post("/api/jobs", async (request, reply) =>
    reply.code(201).send(await jobs.job(await jobs.add(cardFrom(request.body)))),
  );
  app.get<ById>("/api/jobs/:id", async (request, reply) =>
    fresh(reply).send(await jobs.job(request.params.id)),
  );
  addChange(app, jobs, "card", (id, body) => jobs.edit(id, cardFrom(body)));
  addChange(app, jobs, "undo", (id) => jobs.undo(id));
  addChange(app, jobs, "archive", (id, body) =>
    jobs.archive(id, checked(archiving, body, said("the body")).archived),
  );
  addChange(app, jobs, "records", (id, body) =>
    jobs.attach(id, checked(attaching, body, said("the body")).recordId),
  );
  addPhotos(app, jobs);
}

function addChange(
  app: FastifyInstance,
  jobs: JobStore,
  what: string,
  change: (id: string, body: unknown) => Promise<void>,
): void {
  app.post<ById>(`/api/jobs/:id/${what}`, async (request, reply) => {
    await change(request.params.id, request.body);
    return reply.send(await jobs.job(request.params.id));
  });
}

function addPhotos(app: FastifyInstance, jobs: JobStore): void {
  app.addContentTypeParser([...PICTURE_TYPES], { parseAs: "buffer" }, (_, body, done) =>
    done(null, body),
  );
  app.post<ById>("/api/jobs/:id/photos", { bodyLimit: PHOTO_BYTES_MAX }, async (request, reply) => {
    const { name } = checked(photoQuery, request.query, said("the query"));
    const bytes = request.body;
    const type = Buffer.isBuffer(bytes) ? pictureType(bytes) : null;
    if (type === null || !Buffer.isBuffer(bytes)) {
      throw new BobweightError("PHOTO_INVALID", said("{} is not a picture of a known kind.", name));
    }
    await jobs.addPhoto(request.params.id, { name, type, bytes });
    return reply.code(201).send(await jobs.job(request.params.id));
  });
  app.get<ByPhoto>("/api/jobs/:id/photos/:photoId", async (request, reply) => {
    const { type, bytes } = await jobs.photo(request.params.id, request.params.photoId);
    return reply.type(type).header("cache-control", "private, max-age=86400").send(bytes);
  });
  app.post<ByPhoto>("/api/jobs/:id/photos/:photoId/take-off", async (request, reply) => {
    await jobs.takePhotoOff(request.params.id, request.params.photoId);
    return reply.send(await jobs.job(request.params.id));
  });
}

/** @throws JOB_INVALID naming the field */
function cardFrom(body: unknown) {
  const result = cardSchema.safeParse(body);
  if (result.success) return result.data;
  const issue = firstIssue(result.error);
  throw new BobweightError(
    "JOB_INVALID",
    said("Job card, {}: {}.", issue.path.join(".") || said("as a whole"), issueSaid(issue, body)),
  );
}
