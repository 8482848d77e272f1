// The REST routes of a record's engine figures: what was asked of them is kept, and the sheet printed.
import type { FastifyInstance } from "fastify";
import { z } from "zod";
import type { EngineAsked } from "../../core/engine/asked.ts";
import { BobweightError } from "../../core/errors.ts";
import { said } from "../../core/said.ts";
import { PAPERS } from "../../core/sheet/model.ts";
import { VACUUM_PORTS } from "../../core/unit.ts";
import { engineSheetOf, keepEngine, keptEngine } from "../engine.ts";
import type { Store } from "../store/store.ts";
import { checked } from "./clientMessages.ts";
import { type ById, fresh } from "./routes.ts";
import { sendSheet } from "./sheetReply.ts";

const READINGS_MAX = 60;
const SPEEDS_MAX = 40;
const AMBIENT_PA = 101_325;

const engineRpm = z.number().min(0).max(20_000);
const vacuumPa = z.number().min(0).max(AMBIENT_PA);

/** With the limits that the command has. */
const engineAsked: z.ZodType<EngineAsked> = z.strictObject({
  initialTimingCrankshaftDeg: z.number().min(-60).max(60),
  atEngineRpm: engineRpm,
  vacuumPort: z.enum(VACUUM_PORTS),
  idleEngineRpm: z.number().min(1).max(3000).nullable(),
  engineSpeedsRpm: z
    .array(engineRpm.min(1))
    .max(SPEEDS_MAX)
    .transform((speeds) => speeds.toSorted((a, b) => a - b))
    .nullable(),
  capsule: z.int().min(0).max(8),
  unloadedVacuumPa: vacuumPa,
  cruiseVacuumPa: vacuumPa,
  readings: z
    .array(
      z.strictObject({
        engineRpm: engineRpm.min(1),
        markCrankshaftDeg: z.number().min(-60).max(120),
        vacuumLine: z.enum(["plugged", "on"]),
      }),
    )
    .max(READINGS_MAX),
});

const sheetQuery = z.strictObject({
  paper: z.enum(PAPERS).default("a4"),
  /** EngineAsked as JSON: what is in sight on the page is printed, kept or not. */
  asked: z.string().min(2).max(8000),
});

export function addEngineRoutes(app: FastifyInstance, store: Store): void {
  app.get<ById>("/api/records/:id/engine", async (request, reply) =>
    fresh(reply).send({ asked: await keptEngine(store, request.params.id) }),
  );
  app.post<ById>("/api/records/:id/engine", async (request, reply) => {
    await keepEngine(
      store,
      request.params.id,
      checked(engineAsked, request.body, said("the body")),
    );
    return reply.code(201).send({});
  });
  app.get<ById>("/records/:id/engine.html", async (request, reply) => {
    const { paper, asked: text } = checked(sheetQuery, request.query, said("the query"));
    const asked = checked(engineAsked, jsonOf(text), said("the query"));
    return sendSheet(reply, await engineSheetOf(store, request.params.id, asked, paper));
  });
}

function jsonOf(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch (cause) {
    throw new BobweightError("REQUEST_REFUSED", said("The message is not JSON."), { cause });
  }
}
