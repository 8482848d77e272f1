// The Help place comes when it is asked for, in the language that is spoken: the first load stays small.
export async function loadHelp() {
  const [{ default: Help }, { help }] = await Promise.all([
    import("./Help.svelte"),
    import("../words/en/help.ts"),
  ]);
  return { Help, help };
}
