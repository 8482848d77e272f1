// The Help place comes when it is asked for, in the language that is spoken: the first load stays small.
import type { HelpWords } from "../words/en/help.ts";

const IN_GERMAN = (): Promise<{ help: HelpWords }> => import("../words/de/help.ts");
const IN_ENGLISH = (): Promise<{ help: HelpWords }> => import("../words/en/help.ts");

export async function loadHelp() {
  const isGerman = document.documentElement.lang === "de";
  const [{ default: Help }, { help }] = await Promise.all([
    import("./Help.svelte"),
    isGerman ? IN_GERMAN() : IN_ENGLISH(),
  ]);
  return { Help, help };
}
