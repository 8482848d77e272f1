// The guided way through a first job: hints that are on or off, closed or not, kept in the browser's storage.
import { createContext } from "svelte";
import { type HintName, hintsAt, type Remembered, rememberedFrom, type Stage } from "./hints.ts";
import { words } from "./words.ts";

const KEY = "bobweight.hints";

export class Guide {
  /** Said aloud: each hint once, when it is first in sight. */
  spoken = $state("");
  private remembered = $state.raw<Remembered>(rememberedFrom(stored()));
  private readonly said = new Set<HintName>();
  private toSay: string[] = [];

  get isOn(): boolean {
    return this.remembered.isOn;
  }

  get isDeclined(): boolean {
    return this.remembered.isDeclined;
  }

  shows(name: HintName, stage: Stage): boolean {
    const { isOn, closed } = this.remembered;
    return isOn && hintsAt(stage).includes(name) && !closed.includes(name);
  }

  /** All of them, from the start. */
  show(): void {
    this.said.clear();
    this.keep({ ...this.remembered, isOn: true, closed: [] });
  }

  close(name: HintName): void {
    this.keep({ ...this.remembered, closed: [...this.remembered.closed, name] });
  }

  closeAll(): void {
    this.keep({ ...this.remembered, isOn: false });
  }

  decline(): void {
    this.keep({ ...this.remembered, isDeclined: true });
  }

  announce(name: HintName): void {
    if (this.said.has(name)) return;
    this.said.add(name);
    this.toSay.push(words.guide.hints[name]);
    // What comes into sight together is said together.
    queueMicrotask(() => {
      if (this.toSay.length > 0) this.spoken = this.toSay.join(" ");
      this.toSay = [];
    });
  }

  private keep(remembered: Remembered): void {
    this.remembered = remembered;
    try {
      localStorage.setItem(KEY, JSON.stringify(remembered));
    } catch {
      // A browser that keeps nothing shows the hints for as long as the page is open.
    }
  }
}

function stored(): string | null {
  try {
    return localStorage.getItem(KEY);
  } catch {
    return null;
  }
}

export const [theGuide, provideGuide] = createContext<Guide>();
