// Puts the page into the document, in the workshop's language and units.
import { mount } from "svelte";
import { FIRST_SETTINGS, type Settings } from "../../core/settings/settings.ts";
import App from "./App.svelte";
import "./bench.css";
import { showVacuumIn } from "./formats.ts";
import "./job.css";
import { speak } from "./words.ts";

const ANSWER_WITHIN_MS = 2000;

/** The page watches and stops a run: it comes up in time, if need be in English. */
async function keptSettings(): Promise<Settings> {
  try {
    const answer = await fetch("/api/settings", { signal: AbortSignal.timeout(ANSWER_WITHIN_MS) });
    if (!answer.ok) return FIRST_SETTINGS;
    const settings = (await answer.json()) as Settings;
    await speak(settings.language);
    return settings;
  } catch {
    return FIRST_SETTINGS;
  }
}

const target = document.getElementById("page");
if (target === null) throw new Error("index.html has no element #page");
const settings = await keptSettings();
document.documentElement.lang = settings.language;
showVacuumIn(settings.vacuumUnit);
mount(App, { target, props: { settings } });
