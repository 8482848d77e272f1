// How a program comes in by the address that `serve` prints, as a browser does.

export interface Entered {
  readonly origin: string;
  readonly host: string;
  /** To be sent along from now on; empty where the address lets nobody in. */
  readonly cookie: string;
}

export async function enteredBy(address: string): Promise<Entered> {
  const { headers } = await fetch(address, { redirect: "manual" });
  const { origin, host } = new URL(address);
  return { origin, host, cookie: headers.get("set-cookie")?.split(";")[0] ?? "" };
}
