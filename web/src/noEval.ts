// The page's policy allows no code made from texts. Imported before whatever checks a form with zod.
import * as z from "zod";

z.config({ jitless: true });
