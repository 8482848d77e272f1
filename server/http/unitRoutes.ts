// The REST routes of units on file: all that can be chosen, a unit file to carry off, and a new one kept.

import type { FastifyInstance } from "fastify";
import { z } from "zod";
import type { NewUnit } from "../../core/messages.ts";
import { said } from "../../core/said.ts";
import { parseJsonFile } from "../../core/unitFile/jsonText.ts";
import { checked } from "./clientMessages.ts";
import { type ById, fresh, type RouteSources } from "./routes.ts";

const UNIT_TEXT_LENGTH_MAX = 200_000;

const newUnit: z.ZodType<NewUnit> = z.strictObject({
  name: z.string().min(1).max(200),
  text: z.string().min(1).max(UNIT_TEXT_LENGTH_MAX),
  replaces: z.uuid().nullable().default(null),
});

export function addUnitRoutes(app: FastifyInstance, sources: RouteSources): void {
  const { bench, store } = sources;
  app.get("/api/units", async (_, reply) => fresh(reply).send(await bench.units()));
  app.get<ById>("/api/units/:id", async (request, reply) =>
    fresh(reply).send({ file: await fileOf(sources, request.params.id) }),
  );
  app.get<ById>("/api/units/:id/unit.json", async (request, reply) =>
    fresh(reply)
      .header("content-disposition", 'attachment; filename="bobweight.unit.json"')
      .type("application/json; charset=utf-8")
      .send(`${JSON.stringify(await fileOf(sources, request.params.id), null, 2)}\n`),
  );
  app.post("/api/units", async (request, reply) => {
    const { name, text, replaces } = checked(newUnit, request.body, said("the body"));
    sources.checkUnit(text, name);
    return reply.code(201).send({ id: await store.units.add(text, replaces) });
  });
}

/** Of a unit that can be chosen, or of what one was before. @throws UNIT_UNKNOWN */
async function fileOf({ bench, store }: RouteSources, id: string): Promise<unknown> {
  const now = (await bench.units()).units.find((unit) => unit.id === id);
  if (now !== undefined) return now.file;
  return parseJsonFile((await store.units.unit(id)).fileText, `unit ${id}`);
}
