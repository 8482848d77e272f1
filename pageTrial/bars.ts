// Every bar of the page.
import type { Bar } from "../accuracy/bar.ts";
import { keyboard } from "./bars/keyboard.ts";
import { newUser } from "./bars/newUser.ts";
import { print } from "./bars/print.ts";
import { screens } from "./bars/screens.ts";
import { shift } from "./bars/shift.ts";
import { weight } from "./bars/weight.ts";

export const BARS: readonly Bar<unknown>[] = [screens, keyboard, print, newUser, weight, shift];
