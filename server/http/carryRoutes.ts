// The routes by which records are carried off whole, and brought in. Large ones take long enough to keep a
// running rig without its sign of life, so neither is done while one runs.

import type { FastifyInstance } from "fastify";
import { z } from "zod";
import { said } from "../../core/said.ts";
import { bringRecordIn, RECORD_FILE_BYTES_MAX, recordFileText } from "../recordFile.ts";
import { checked } from "./clientMessages.ts";
import { type ById, fresh, type RouteSources } from "./routes.ts";
import type { RunDesk } from "./runDesk.ts";

const nameQuery = z.strictObject({ name: z.string().min(1).max(200).default("The file") });

export function addCarryRoutes(app: FastifyInstance, { store }: RouteSources, desk: RunDesk): void {
  app.get<ById>("/records/:id/whole.record.json", async (request, reply) => {
    desk.refuseWhileRunning();
    const { id } = request.params;
    const text = await recordFileText(store, id);
    return fresh(reply)
      .header("content-disposition", `attachment; filename="bobweight-${id}.record.json"`)
      .type("application/json; charset=utf-8")
      .send(text);
  });
  app.post("/api/records", { bodyLimit: RECORD_FILE_BYTES_MAX }, async (request, reply) => {
    const { name } = checked(nameQuery, request.query, said("the query"));
    desk.refuseWhileRunning();
    const broughtIn = await bringRecordIn(store, request.body, name);
    return reply.code(broughtIn.wasThere ? 200 : 201).send(broughtIn);
  });
}
