// The REST routes of the settings and of the workshop's logo.

import type { FastifyInstance } from "fastify";
import { BobweightError } from "../../core/errors.ts";
import { said } from "../../core/said.ts";
import { keepLogo, keepSettings, keptLogo, toldSettings } from "../settings.ts";
import type { Store } from "../store/store.ts";
import { fresh } from "./routes.ts";

export function addSettingsRoutes(app: FastifyInstance, store: Store): void {
  app.get("/api/settings", async (_, reply) => fresh(reply).send(await toldSettings(store)));
  app.post("/api/settings", async (request, reply) => {
    await keepSettings(store, request.body);
    return reply.send(await toldSettings(store));
  });
  app.get("/api/settings/logo", async (_, reply) => {
    const logo = await keptLogo(store);
    if (logo === null) throw new BobweightError("LOGO_UNKNOWN", said("No logo is kept."));
    return fresh(reply).type(logo.type).send(Buffer.from(logo.base64, "base64"));
  });
  app.post("/api/settings/logo", async (request, reply) => {
    const { body } = request;
    if (!Buffer.isBuffer(body)) {
      throw new BobweightError("LOGO_INVALID", said("What was sent is no picture."));
    }
    await keepLogo(store, body);
    return reply.code(201).send({});
  });
  app.post("/api/settings/logo/take-off", async (_, reply) => {
    await keepLogo(store, null);
    return reply.send({});
  });
}
