// The workshop's settings and logo as they are kept in the data folder, and what they change in a measurement.

import { BobweightError } from "../core/errors.ts";
import { firstIssue, issueSaid } from "../core/issue.ts";
import { said } from "../core/said.ts";
import { LOGO_BYTES_MAX, type Logo, logoType } from "../core/settings/logo.ts";
import { FIRST_SETTINGS, type KeptSettings, type Settings } from "../core/settings/settings.ts";
import { settingsSchema } from "../core/settings/settingsSchema.ts";
import type { NamedFile } from "./files.ts";
import { isWhole } from "./logo.ts";
import type { Store } from "./store/store.ts";

const KEPT_AS = "settings.json";
/** The picture in base64; empty where it was taken off. */
const LOGO_KEPT_AS = "logo.base64";

export async function keptSettings(store: Store): Promise<Settings> {
  const [text] = await store.lastSeen(KEPT_AS, () => store.keptTexts(KEPT_AS, 1));
  return text === undefined ? FIRST_SETTINGS : settingsFrom(JSON.parse(text));
}

/** With what is kept beside them. */
export async function toldSettings(store: Store): Promise<KeptSettings> {
  return { ...(await keptSettings(store)), hasLogo: (await keptLogo(store)) !== null };
}

/** In place of the ones before, which stay in the store. @throws SETTINGS_INVALID naming the setting */
export async function keepSettings(store: Store, content: unknown): Promise<void> {
  await store.keepText(KEPT_AS, JSON.stringify(settingsFrom(content)));
}

function settingsFrom(content: unknown): Settings {
  const result = settingsSchema.safeParse(content);
  if (result.success) return result.data;
  const issue = firstIssue(result.error);
  throw new BobweightError(
    "SETTINGS_INVALID",
    said(
      "Settings, {}: {}.",
      issue.path.join(".") || said("as a whole"),
      issueSaid(issue, content),
    ),
  );
}

/** Null where none is kept. */
export async function keptLogo(store: Store): Promise<Logo | null> {
  const [base64 = ""] = await store.keptTexts(LOGO_KEPT_AS, 1);
  const type = logoType(Buffer.from(base64, "base64"));
  return type === null ? null : { type, base64 };
}

/** Null takes it off. @throws LOGO_INVALID */
export async function keepLogo(store: Store, bytes: Uint8Array | null): Promise<void> {
  if (bytes === null) {
    await store.keepText(LOGO_KEPT_AS, "");
    return;
  }
  if (logoType(bytes) === null) {
    throw new BobweightError("LOGO_INVALID", said("The logo is neither PNG nor JPEG."));
  }
  if (!isWhole(bytes)) throw new BobweightError("LOGO_INVALID", said("The logo is not whole."));
  if (bytes.length > LOGO_BYTES_MAX) {
    throw new BobweightError("LOGO_INVALID", said("The logo has {} bytes.", bytes.length));
  }
  await store.keepText(LOGO_KEPT_AS, Buffer.from(bytes).toString("base64"));
}

/**
 * The unit file with the workshop's tolerance in it, where it names none itself: so the record keeps
 * by what it was judged. Rows with limits of their own are not touched by it.
 */
export function withTolerance(file: NamedFile, { toleranceDeg }: Settings): NamedFile {
  const { content } = file;
  if (toleranceDeg === null || typeof content !== "object" || content === null) return file;
  return { ...file, content: { workshopToleranceDeg: toleranceDeg, ...content } };
}
