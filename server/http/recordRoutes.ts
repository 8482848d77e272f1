// What can be taken away from a record: the test sheet to print, its curves as CSV, all of it as JSON.
import type { FastifyInstance } from "fastify";
import { z } from "zod";
import { LANGUAGES } from "../../core/language.ts";
import { said } from "../../core/said.ts";
import { curvesCsv } from "../../core/sheet/csv.ts";
import { recordJson } from "../../core/sheet/json.ts";
import { PAPERS } from "../../core/sheet/model.ts";
import { VACUUM_UNITS } from "../../core/units.ts";
import { READERS, sheetFor } from "../papers.ts";
import type { Store } from "../store/store.ts";
import { checked } from "./clientMessages.ts";
import { type ById, fresh } from "./routes.ts";
import { sendSheet } from "./sheetReply.ts";

const sheetQuery = z.strictObject({
  paper: z.enum(PAPERS).default("a4"),
  vacuum: z.enum(VACUUM_UNITS).optional(),
  language: z.enum(LANGUAGES).optional(),
  for: z.enum(READERS).default("file"),
});

export function addRecordRoutes(app: FastifyInstance, store: Store): void {
  app.get<ById>("/records/:id/sheet.html", async (request, reply) => {
    const {
      paper,
      vacuum,
      language,
      for: reader,
    } = checked(sheetQuery, request.query, said("the query"));
    const { documents } = await store.record(request.params.id);
    const sheet = await sheetFor(store, documents, reader, { paper, vacuumUnit: vacuum, language });
    return sendSheet(reply, sheet);
  });
  app.get<ById>("/records/:id/curves.csv", async (request, reply) => {
    const { head, documents } = await store.record(request.params.id);
    return fresh(reply)
      .header("content-disposition", `attachment; filename="bobweight-${head.id}.csv"`)
      .type("text/csv; charset=utf-8; header=present")
      .send(curvesCsv(documents));
  });
  app.get<ById>("/records/:id/record.json", async (request, reply) => {
    const { head, documents } = await store.record(request.params.id);
    return fresh(reply)
      .header("content-disposition", `attachment; filename="bobweight-${head.id}.json"`)
      .type("application/json; charset=utf-8")
      .send(recordJson(documents));
  });
}
