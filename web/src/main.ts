// Puts the page into the document, in the workshop's language and units.
import { mount } from "svelte";
import { FIRST_SETTINGS, type KeptSettings } from "../../core/settings/settings.ts";
import App from "./App.svelte";
import "./bench.css";
import { showVacuumIn } from "./formats.ts";
import "./job.css";
import { showAt } from "./shaft.ts";
import { speak } from "./words.ts";

const ANSWER_WITHIN_MS = 2000;
const UNKNOWN: KeptSettings = { ...FIRST_SETTINGS, hasLogo: false };

/** The page watches and stops a run: it comes up in time, if need be in English. */
async function keptSettings(): Promise<KeptSettings> {
  try {
    const answer = await fetch("/api/settings", { signal: AbortSignal.timeout(ANSWER_WITHIN_MS) });
    if (!answer.ok) return UNKNOWN;
    const settings = (await answer.json()) as KeptSettings;
    await speak(settings.language);
    return settings;
  } catch {
    return UNKNOWN;
  }
}

const target = document.getElementById("page");
if (target === null) throw new Error("index.html has no element #page");
const settings = await keptSettings();
document.documentElement.lang = settings.language;
showVacuumIn(settings.vacuumUnit);
showAt(settings.shownShaft);
mount(App, { target, props: { settings } });
