// The web server: this computer only unless it was opened, one gate before everything, the page, the routes and the live stream.

import { createServer, type RequestListener, type Server } from "node:http";
import { createServer as createTlsServer } from "node:https";
import type { AddressInfo } from "node:net";
import Fastify, { type FastifyInstance, type FastifyReply } from "fastify";
import { BobweightError } from "../../core/errors.ts";
import type { Language } from "../../core/language.ts";
import { said } from "../../core/said.ts";
import { FIRST_SETTINGS } from "../../core/settings/settings.ts";
import { keptSettings } from "../settings.ts";
import { addBackupRoutes } from "./backupRoutes.ts";
import { addCarryRoutes } from "./carryRoutes.ts";
import { addDoorstep, isOnDoorstep, turnAway } from "./doorstep.ts";
import { addDrawerRoutes } from "./drawerRoutes.ts";
import { addEngineRoutes } from "./engineRoutes.ts";
import { Entrance, LOOPBACK, type NetworkEntrance, notAdmitted } from "./entrance.ts";
import { type Gate, refusedAtGate, setSafeHeaders } from "./gate.ts";
import { addJobRoutes } from "./jobRoutes.ts";
import { LiveServer } from "./liveServer.ts";
import { addPage } from "./page.ts";
import { Rate } from "./rate.ts";
import { addRecordRoutes } from "./recordRoutes.ts";
import { refusalOf } from "./refusals.ts";
import { addApiRoutes, answerErrors, type RouteSources } from "./routes.ts";
import { RunDesk } from "./runDesk.ts";
import { addSettingsRoutes } from "./settingsRoutes.ts";
import { addShelfRoutes } from "./shelfRoutes.ts";
import { addUnitRoutes } from "./unitRoutes.ts";

export const DEFAULT_PORT = 8330;
const BODY_BYTES_MAX = 1024 * 1024;
const REQUEST_TIMEOUT_MS = 10_000;
/** Of a whole workshop's pages; more are a flood. */
const CONNECTIONS_MAX = 256;
/** Of requests and upgrades from one address. A page that is loaded takes some dozens. */
const REQUESTS_AT_ONCE = 500;
const REQUESTS_PER_S = 50;

export interface ServerOptions extends RouteSources {
  /** 0: any free port. */
  readonly port: number;
  /** Where the built page lies. */
  readonly pageFolder: string;
  /** Null: this computer only. */
  readonly network: NetworkEntrance | null;
}

export interface RunningServer {
  readonly port: number;
  /** Address to open in a browser on this computer; whoever has it is in. */
  readonly url: string;
  /** Stops a run and waits for its end, then closes connections and the store. Call it once. */
  close(): Promise<void>;
}

/** @throws PORT_TAKEN */
export async function openServer(options: ServerOptions): Promise<RunningServer> {
  const desk = new RunDesk(options.bench, options.report, options.store.handOver);
  const entrance = new Entrance(options.network);
  const gate = gateOf(entrance);
  const live = new LiveServer(desk, gate);
  const app = gatedFastify(live, entrance, gate, () =>
    keptSettings(options.store).then(
      ({ language }) => language,
      // Whoever is turned away is not told what is wrong inside.
      () => FIRST_SETTINGS.language,
    ),
  );
  answerErrors(app, options.report);
  addApiRoutes(app, options);
  addRecordRoutes(app, options.store);
  addEngineRoutes(app, options.store);
  addShelfRoutes(app, options.store);
  addUnitRoutes(app, options);
  addCarryRoutes(app, options, desk);
  addBackupRoutes(app, options.keeping, desk);
  addJobRoutes(app, options.store);
  addDrawerRoutes(app, options.store);
  addSettingsRoutes(app, options.store);
  addDoorstep(app, entrance);
  await addPage(app, options.pageFolder);
  await listen(app, options.network?.host ?? LOOPBACK, options.port);
  const { port } = app.server.address() as AddressInfo;
  return {
    port,
    url: entrance.startUrl(port),
    async close() {
      await desk.close();
      await live.close();
      await app.close();
      await options.store.close();
    },
  };
}

function gateOf(entrance: Entrance): Gate {
  const rate = new Rate(REQUESTS_AT_ONCE, REQUESTS_PER_S);
  return (request, kind) => {
    if (!rate.takes(request.socket.remoteAddress ?? "", performance.now())) {
      return { status: 429, refusal: refusalOf("REQUEST_REFUSED", said("Too many requests.")) };
    }
    const refused = refusedAtGate(request, kind, entrance);
    if (refused !== null || kind === "request") return refused;
    return entrance.look(request) === "in" ? null : { status: 401, refusal: notAdmitted() };
  };
}

/** The gate stands before Fastify, so that no route, error page or static file can be reached around it. */
function gatedFastify(
  live: LiveServer,
  entrance: Entrance,
  gate: Gate,
  language: () => Promise<Language>,
): FastifyInstance {
  const app = Fastify({
    bodyLimit: BODY_BYTES_MAX,
    forceCloseConnections: true,
    // What is no address at all reaches neither a route nor the handlers of errors.
    frameworkErrors: (_error, _request, reply: FastifyReply) =>
      reply.code(400).send(refusalOf("REQUEST_REFUSED", said("There is nothing at this address."))),
    serverFactory: (handler) => {
      const server = plainOrTls(entrance, (request, response) => {
        setSafeHeaders(response);
        const refused = gate(request, "request");
        if (refused !== null) {
          const type = "application/json; charset=utf-8";
          response.writeHead(refused.status, { connection: "close", "content-type": type });
          response.end(JSON.stringify(refused.refusal));
          return;
        }
        const answer = entrance.look(request);
        if (answer === "welcome") {
          // On, without the token in the address: it would stay in the browser's history.
          const cookie = entrance.cookie(request);
          response.writeHead(303, {
            location: "/",
            "set-cookie": cookie,
            "cache-control": "no-store",
          });
          response.end();
        } else if (answer === "in" || isOnDoorstep(request, entrance)) {
          handler(request, response);
        } else {
          void turnAway(request, response, entrance, language);
        }
      });
      server.maxConnections = CONNECTIONS_MAX;
      return server.on("upgrade", (request, stream, head) => live.upgrade(request, stream, head));
    },
  });
  app.removeContentTypeParser("text/plain");
  return app;
}

function plainOrTls({ network }: Entrance, listener: RequestListener): Server {
  const limits = { requestTimeout: REQUEST_TIMEOUT_MS };
  return network?.tls
    ? createTlsServer({ ...limits, ...network.tls }, listener)
    : createServer(limits, listener);
}

async function listen(app: FastifyInstance, host: string, port: number): Promise<void> {
  try {
    await app.listen({ host, port });
  } catch (cause) {
    await app.close();
    const taken = cause instanceof Error && "code" in cause && cause.code === "EADDRINUSE";
    throw taken
      ? new BobweightError("PORT_TAKEN", said("Port {} is in use.", port), { cause })
      : cause;
  }
}
