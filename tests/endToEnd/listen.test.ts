// The page opened to the network through the command line: what it asks for, warns of, and lets in.
import { execFileSync, spawn } from "node:child_process";
import { readFileSync, writeFileSync } from "node:fs";
import { request } from "node:https";
import { join } from "node:path";
import { expect, it } from "vitest";
import { finished, firstLine, freshFolder, PROGRAM } from "./process.ts";

const PASSWORD = "correct horse battery";

function served(args: readonly string[], password: string | null) {
  const { BOBWEIGHT_PASSWORD: _, ...others } = process.env;
  const env = password === null ? others : { ...others, BOBWEIGHT_PASSWORD: password };
  const data = ["--port", "0", "--data", freshFolder()];
  return spawn(process.execPath, [PROGRAM, "serve", ...data, ...args], {
    env,
    stdio: ["ignore", "pipe", "pipe"],
  });
}

/** A certificate for localhost and its key, as a user makes them. */
function certificate(): { cert: string; key: string } {
  const folder = freshFolder();
  const [cert, key] = [join(folder, "cert.pem"), join(folder, "key.pem")];
  const subject = ["-subj", "/CN=localhost", "-addext", "subjectAltName=DNS:localhost"];
  const kind = ["-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:prime256v1", "-nodes"];
  const out = ["-keyout", key, "-out", cert, "-days", "2"];
  execFileSync("openssl", ["req", "-x509", ...kind, ...out, ...subject], { stdio: "ignore" });
  return { cert, key };
}

const hasOpenSsl = (() => {
  try {
    execFileSync("openssl", ["version"], { stdio: "ignore" });
    return true;
  } catch {
    return false;
  }
})();

it.each<[string, readonly string[], string | null, string]>([
  ["without a password", ["--listen", "127.0.0.1"], null, "needs a password"],
  ["with a short one", ["--listen", "127.0.0.1"], "ninesigns", "needs 10 characters"],
  ["with a name alone", ["--name", "workshop.local"], PASSWORD, "go with --listen"],
  ["with a certificate alone", ["--tls-cert", "a.pem"], PASSWORD, "go with --listen"],
  [
    "with a certificate and no key",
    ["--listen", "127.0.0.1", "--tls-cert", "a.pem"],
    PASSWORD,
    "go together",
  ],
])("does not open %s", async (_, args, password, why) => {
  const { status, out, err } = await finished(served(args, password));
  expect([status, out]).toEqual([64, ""]);
  expect(err).toContain(why);
});

it("does not open with a certificate that cannot be read, or is none", async () => {
  const file = join(freshFolder(), "none.pem");
  const args = ["--listen", "127.0.0.1", "--tls-cert", file, "--tls-key", file];
  const gone = await finished(served(args, PASSWORD));
  expect([gone.status === 0, gone.err]).toEqual([
    false,
    expect.stringContaining("FILE_UNREADABLE"),
  ]);
  writeFileSync(file, "no certificate");
  const wrong = await finished(served(args, PASSWORD));
  expect([wrong.status === 0, wrong.err]).toEqual([false, expect.stringContaining("FILE_INVALID")]);
});

it("warns where nothing is encrypted, and lets in by the password alone", async () => {
  const child = served(["--listen", "127.0.0.1", "--name", "workshop.local"], PASSWORD);
  const whole = finished(child);
  try {
    const { origin } = new URL(await firstLine(child));
    const login = (password: string) =>
      fetch(`${origin}/login`, {
        method: "POST",
        headers: { origin, "content-type": "application/json" },
        body: JSON.stringify({ password }),
      });
    expect((await fetch(`${origin}/api/choices`)).status).toBe(401);
    expect((await login("wrong horse battery")).status).toBe(401);
    const right = await login(PASSWORD);
    expect(right.status).toBe(200);
    const cookie = right.headers.get("set-cookie") ?? "";
    expect(cookie).not.toContain("Secure");
    const headers = { cookie: cookie.split(";")[0] ?? "" };
    expect((await fetch(`${origin}/api/choices`, { headers })).status).toBe(200);
  } finally {
    child.kill("SIGTERM");
  }
  expect((await whole).err).toContain(
    "WARNING: without --tls-cert and --tls-key nothing is encrypted",
  );
});

it.skipIf(!hasOpenSsl)("serves by the user's certificate, without the warning", async () => {
  const { cert, key } = certificate();
  const args = ["--listen", "127.0.0.1", "--tls-cert", cert, "--tls-key", key];
  const child = served(args, PASSWORD);
  const whole = finished(child);
  try {
    const url = new URL(await firstLine(child));
    expect(url.protocol).toBe("https:");
    const answer = await new Promise<{ status: number; cookie: string }>((resolve, reject) => {
      const { port, pathname, search } = url;
      const options = { host: "localhost", port, path: pathname + search, ca: readFileSync(cert) };
      request(options, (response) => {
        response.resume();
        const cookie = response.headers["set-cookie"]?.[0] ?? "";
        resolve({ status: response.statusCode ?? 0, cookie });
      })
        .on("error", reject)
        .end();
    });
    expect(answer).toEqual({ status: 303, cookie: expect.stringContaining("; Secure") });
    await expect(fetch(url.href.replace("https:", "http:"))).rejects.toThrow();
  } finally {
    child.kill("SIGTERM");
  }
  expect((await whole).err).not.toContain("WARNING");
});
