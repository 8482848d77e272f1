// What core and server say to people, in German: by the English that stands where it is said (said.ts).
import { deskSentences } from "./sentencesDesk.ts";
import { fileSentences } from "./sentencesFiles.ts";
import { rigSentences } from "./sentencesRig.ts";
import { unitSentences } from "./sentencesUnits.ts";

export const sentences = {
  ...deskSentences,
  ...fileSentences,
  ...rigSentences,
  ...unitSentences,
};
