// The routes of the spring drawer. What to change is worked out in the page, not here: it takes
// seconds, in which nobody would tell a running rig to go on.

import type { FastifyInstance } from "fastify";
import { z } from "zod";
import { drawerCsv } from "../../core/drawer/drawerFile.ts";
import type { NewDrawer } from "../../core/messages.ts";
import { said } from "../../core/said.ts";
import { bringBackDrawer, keepDrawer, keptDrawer } from "../drawer.ts";
import type { Store } from "../store/store.ts";
import { checked } from "./clientMessages.ts";
import { fresh } from "./routes.ts";

const DRAWER_TEXT_LENGTH_MAX = 500_000;

const newDrawer: z.ZodType<NewDrawer> = z.strictObject({
  name: z.string().min(1).max(200),
  text: z.string().min(1).max(DRAWER_TEXT_LENGTH_MAX),
});

export function addDrawerRoutes(app: FastifyInstance, store: Store): void {
  app.get("/api/drawer", async (_, reply) => fresh(reply).send(await keptDrawer(store)));
  app.post("/api/drawer", async (request, reply) => {
    const { name, text } = checked(newDrawer, request.body, said("the body"));
    return reply.code(201).send(await keepDrawer(store, text, name));
  });
  app.post("/api/drawer/bring-back", async (_, reply) => reply.send(await bringBackDrawer(store)));
  app.get("/drawer.csv", async (_, reply) =>
    fresh(reply)
      .header("content-disposition", 'attachment; filename="bobweight-springs.csv"')
      .type("text/csv; charset=utf-8; header=present")
      .send(drawerCsv(await keptDrawer(store))),
  );
}
