// The invented job and the hints that lead through it, in English.
import type { HintName } from "../../hints.ts";
import type { InventedCard } from "../../inventedJob.ts";

const hints: Readonly<Record<HintName, string>> = {
  card: "Nothing on the card must be filled in; when you have looked at it, go on with “Rig ready” above.",
  cautions:
    "Read the cautions and tick the box yourself, as before every run: nothing turns before that.",
  start:
    "“Start measuring” lets the rig run; the software stop above or the Escape key stops it, and at a real rig the hard-wired emergency stop must be in reach.",
  watch:
    "Watch both curves grow against the bars of the specification: up first, then down again; the bar above says how long it takes.",
  findings:
    "“What is wrong” below says what the readings speak for, the likeliest first, with a link to what it means.",
  change:
    "Here the program can work out which spring or bend would help; then, as if it were done, press “It is changed: measure again”.",
  again:
    "On the stand-in rig a repair is another simulated unit: choose the sound one, as if the right spring were fitted.",
  sheet:
    "The unit is right: open the test sheet, which goes back with it and after a change shows it as received, too.",
};
const card: InventedCard = {
  number: "Invented example",
  owner: "A. Example (invented)",
  vehicle: "Invented saloon, 1.6",
  unit: "Everyday four (invented)",
  notes: "An invented example, made by the program to show its way of working.",
};

export const guide = {
  offerTitle: "New here?",
  offer:
    "An invented job on the stand-in rig leads once from the job card to the test sheet. No real rig moves, and nothing starts by itself.",
  tryJob: "Try an invented job",
  decline: "No, thanks",
  hint: "Hint",
  hints,
  close: "Close",
  closeAll: "Close all hints",
  showAgain: "Show hints again",
  areShown: "Hints are shown on the bench.",
  areHidden: "Hints are not shown.",
  meaning: "What this means",
  card,
};
