// The routes of backup and restore. Both keep the disk busy, on which a running rig's record is written:
// neither begins while one runs.

import { createReadStream, statSync } from "node:fs";
import type { Readable } from "node:stream";
import type { FastifyInstance } from "fastify";
import { BACKUP_TYPE } from "../../core/backup.ts";
import { BobweightError } from "../../core/errors.ts";
import { said } from "../../core/said.ts";
import type { Keeping } from "../keeping.ts";
import { fresh } from "./routes.ts";
import type { RunDesk } from "./runDesk.ts";

interface ByName {
  Params: { name: string };
}

export function addBackupRoutes(app: FastifyInstance, keeping: Keeping, desk: RunDesk): void {
  // Not read into memory: it goes to the disk as it comes.
  app.addContentTypeParser(BACKUP_TYPE, (_, payload, done) => done(null, payload));
  app.post("/api/backup", async (_, reply) => {
    desk.refuseWhileRunning();
    return reply.code(201).send(await keeping.make());
  });
  app.get<ByName>("/backups/:name", async (request, reply) => {
    const path = keeping.pathOf(request.params.name);
    if (path === null) {
      throw new BobweightError("REQUEST_REFUSED", said("There is no such backup: make one first."));
    }
    return fresh(reply)
      .header("content-disposition", `attachment; filename="${request.params.name}"`)
      .header("content-length", statSync(path).size)
      .type(BACKUP_TYPE)
      .send(createReadStream(path));
  });
  app.post("/api/restore", async (request, reply) => {
    desk.refuseWhileRunning();
    if (request.headers["content-type"] !== BACKUP_TYPE) {
      throw new BobweightError("REQUEST_REFUSED", said("The body is no backup."));
    }
    return reply.code(201).send(await keeping.restore(request.body as Readable));
  });
}
