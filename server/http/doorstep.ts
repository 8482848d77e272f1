// What somebody finds who is not in: a word, and where the network may come, a field for the password.

import type { IncomingMessage, ServerResponse } from "node:http";
import type { FastifyInstance } from "fastify";
import { z } from "zod";
import type { Language } from "../../core/language.ts";
import { type Said, said, textOf } from "../../core/said.ts";
import { escaped } from "../../core/sheet/markup.ts";
import { SPEECHES } from "../../core/speech/languages.ts";
import { checked } from "./clientMessages.ts";
import { type Entrance, notAdmitted } from "./entrance.ts";

const LOGIN_PATH = "/login";
const SCRIPT_PATH = "/login.js";

const SCRIPT = `const form = document.querySelector("form");
form.addEventListener("submit", async (event) => {
  event.preventDefault();
  const answer = await fetch("${LOGIN_PATH}", {
    method: "POST",
    headers: { "content-type": "application/json" },
    body: JSON.stringify({ password: form.elements.password.value }),
  });
  if (answer.ok) location.reload();
  else document.querySelector("[role=alert]").textContent = (await answer.json()).text;
});
`;

/** What is let pass without being in. */
export function isOnDoorstep({ method, url }: IncomingMessage, entrance: Entrance): boolean {
  if (!entrance.takesPassword) return false;
  return (method === "POST" && url === LOGIN_PATH) || (method === "GET" && url === SCRIPT_PATH);
}

/** To a browser as a page, to all others as any refusal. */
export async function turnAway(
  request: IncomingMessage,
  response: ServerResponse,
  entrance: Entrance,
  language: () => Promise<Language>,
): Promise<void> {
  const wantsPage = request.method === "GET" && request.headers.accept?.includes("text/html");
  const type = wantsPage ? "text/html" : "application/json";
  const text = wantsPage ? page(entrance, await language()) : JSON.stringify(notAdmitted());
  response.writeHead(401, { connection: "close", "content-type": `${type}; charset=utf-8` });
  response.end(text);
}

function page(entrance: Entrance, language: Language): string {
  const speech = SPEECHES[language];
  const text = (one: Said) => escaped(textOf(one, speech));
  const form = `<form><p><label>${text(said("Password"))}
<input name="password" type="password" autocomplete="current-password" required autofocus></label>
<button>${text(said("Come in"))}</button></p><p role="alert"></p></form>
<script src="${SCRIPT_PATH}"></script>`;
  const word = `<p>${text(said("Open the address that Bobweight printed when it started, all of it."))}</p>`;
  return `<!doctype html>
<html lang="${language}">
<meta charset="utf-8">
<meta name="viewport" content="width=device-width">
<title>Bobweight</title>
<h1>Bobweight</h1>
${entrance.takesPassword ? form : word}
</html>
`;
}

const asked = z.strictObject({ password: z.string().min(1).max(1000) });

/** The routes of the doorstep. */
export function addDoorstep(app: FastifyInstance, entrance: Entrance): void {
  if (!entrance.takesPassword) return;
  app.get(SCRIPT_PATH, (_, reply) => reply.type("text/javascript; charset=utf-8").send(SCRIPT));
  app.post(LOGIN_PATH, async (request, reply) => {
    const { password } = checked(asked, request.body, said("the body"));
    const refusal = await entrance.refusalOf(password);
    if (refusal !== null) return reply.code(401).send(refusal);
    return reply.header("set-cookie", entrance.cookie(request.raw)).send({});
  });
}
