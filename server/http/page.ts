// The built page as static files, or a plain word where it has not been built.
import { existsSync } from "node:fs";
import { join } from "node:path";
import fastifyStatic from "@fastify/static";
import type { FastifyInstance } from "fastify";

const UNBUILT_PAGE = `<!doctype html>
<html lang="en">
<meta charset="utf-8">
<title>Bobweight</title>
<h1>The page has not been built</h1>
<p>Start Bobweight with <code>npm start</code>, which builds the page first.
The records and their test sheets can be had without it.</p>
</html>
`;

export async function addPage(app: FastifyInstance, folder: string): Promise<void> {
  if (existsSync(join(folder, "index.html"))) {
    await app.register(fastifyStatic, {
      root: folder,
      cacheControl: true,
      maxAge: 0,
      preCompressed: true,
    });
  } else {
    app.get("/", (_, reply) => reply.type("text/html; charset=utf-8").send(UNBUILT_PAGE));
  }
}
