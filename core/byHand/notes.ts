// What somebody typed who has no rig: readings line by line, and how they were taken.

import { BobweightError } from "../errors.ts";
import { type Said, said } from "../said.ts";
import type { Branch } from "../unit.ts";
import { pascalsFrom, VACUUM_UNITS, type VacuumUnit } from "../units.ts";
import { BY_HAND_MEANS, type ByHandMeans } from "./byHand.ts";

const SHAFTS = ["distributor", "crankshaft"] as const;
type Shaft = (typeof SHAFTS)[number];

/** Degrees and rpm are those of the shaft named, as typed; vacuum in pascals. */
export interface ByHandNotes {
  readonly means: ByHandMeans;
  readonly degrees: Shaft;
  readonly rpm: Shaft;
  /** Initial timing that is part of the degrees. */
  readonly initialDeg: number;
  /** Limits of one reading, either way. */
  readonly readingLimitDeg: number;
  readonly speedLimitRpm: number;
  readonly vacuumLimitPa: number;
  /** Which of the unit's capsules, from 0. */
  readonly capsule: number;
  /** Speed while vacuum was read; 0 at rest. */
  readonly vacuumRpm: number;
  readonly camTurns: boolean | null;
  readonly camSpringsBack: boolean | null;
  readonly speedReadings: readonly { branch: Branch; rpm: number; deg: number }[];
  readonly vacuumReadings: readonly { branch: Branch; vacuumPa: number; deg: number }[];
  readonly hold: HoldNote | null;
}

export type HoldNote =
  | { readonly reached: true; vacuumPa: number; readonly seconds: number; readonly dropPa: number }
  | { readonly reached: false; vacuumPa: number; readonly gotToPa: number };

/** Limits that are taken where the notes give none. Common practice, no source. */
const READING_LIMIT_DEG = 1;
const SPEED_LIMIT_RPM = 20;
const VACUUM_LIMIT_PA = pascalsFrom(1, "inHg");

const NUMBER = String.raw`(-?\d+(?:\.\d+)?)`;
const PARTED = String.raw`(?:\s*[,;]\s*|\s+)`;
const UNIT = `(${VACUUM_UNITS.join("|")})`;
const SPEED_LINE = new RegExp(`^${NUMBER}${PARTED}${NUMBER}$`);
const VACUUM_LINE = new RegExp(`^${NUMBER}\\s*${UNIT}${PARTED}${NUMBER}$`);
const HOLD_LINE = new RegExp(
  `^${NUMBER}\\s*${UNIT}\\s+held\\s+${NUMBER}\\s*s\\s+dropped\\s+${NUMBER}$`,
);
const FAILED_HOLD_LINE = new RegExp(`^${NUMBER}\\s*${UNIT}\\s+reached\\s+only\\s+${NUMBER}$`);
const HEAD_LINE = new RegExp(`^rpm${PARTED}deg$`);
const SETTING_LINE = /^([a-z ]+?)\s*:\s*(.+)$/;

/** @throws NOTES_INVALID naming the line */
export function byHandNotes(text: string, name: string): ByHandNotes {
  const reader = new NotesReader(name);
  for (const line of text.replace(/^\uFEFF/, "").split(/\r\n|\r|\n/)) reader.read(line);
  return reader.notes();
}

/** What the lines have told so far, one line after the other. */
class NotesReader {
  private readonly name: string;
  private line = 0;
  private branch: Branch = "rising";
  private readonly settings = new Map<string, { readonly line: number; readonly value: string }>();
  private readonly speeds: ByHandNotes["speedReadings"][number][] = [];
  private readonly vacuums: ByHandNotes["vacuumReadings"][number][] = [];
  private hold: HoldNote | null = null;

  constructor(name: string) {
    this.name = name;
  }

  read(raw: string): void {
    this.line++;
    const text = raw.replace(/#.*/, "").trim();
    if (text === "" || HEAD_LINE.test(text)) return;
    if (text === "rising" || text === "falling") this.branch = text;
    else if (!this.reading(text) && !this.holdLine(text) && !this.setting(text)) {
      this.fail(said("{} is no line of notes", JSON.stringify(text)));
    }
  }

  notes(): ByHandNotes {
    const means = this.oneOf("means", BY_HAND_MEANS);
    if (this.speeds.length + this.vacuums.length === 0 && this.hold === null) {
      this.lacks(said("there is no reading in it"));
    }
    const notes: ByHandNotes = {
      means,
      degrees: this.oneOf("degrees", SHAFTS),
      rpm: this.oneOf("rpm", SHAFTS),
      initialDeg: this.number("initial", -60, 60) ?? 0,
      readingLimitDeg: this.number("uncertainty", 0.01, 20) ?? READING_LIMIT_DEG,
      speedLimitRpm: this.number("rpm uncertainty", 0.1, 500) ?? SPEED_LIMIT_RPM,
      vacuumLimitPa: this.vacuum("vacuum uncertainty") ?? VACUUM_LIMIT_PA,
      capsule: (this.number("capsule", 1, 9) ?? 1) - 1,
      vacuumRpm: this.number("vacuum rpm", 0, 20_000) ?? this.atRest(means),
      camTurns: this.yesOrNo("cam turns by hand"),
      camSpringsBack: this.yesOrNo("cam springs back"),
      speedReadings: this.speeds,
      vacuumReadings: this.vacuums,
      hold: this.hold,
    };
    const [unknown] = this.settings.entries();
    if (unknown === undefined) return notes;
    this.line = unknown[1].line;
    return this.fail(said('there is no setting "{}"', unknown[0]));
  }

  private reading(text: string): boolean {
    const { branch } = this;
    const speed = SPEED_LINE.exec(text);
    const vacuum = VACUUM_LINE.exec(text);
    if (speed !== null) {
      const [rpm, deg] = [Number(speed[1]), Number(speed[2])];
      this.within(said("a speed in rpm"), rpm, 1, 20_000);
      this.within(said("degrees"), deg, -180, 180);
      if (this.speeds.some((one) => one.branch === branch && one.rpm === rpm)) {
        this.fail(
          said("{} rpm comes twice, {}. Keep one line, or the mean of both", rpm, said(branch)),
        );
      }
      this.speeds.push({ branch, rpm, deg });
    } else if (vacuum !== null) {
      const vacuumPa = this.pascals(vacuum[1], vacuum[2]);
      const deg = Number(vacuum[3]);
      this.within(said("degrees"), deg, -180, 180);
      if (this.vacuums.some((one) => one.branch === branch && one.vacuumPa === vacuumPa)) {
        this.fail(
          said("this vacuum comes twice, {}. Keep one line, or the mean of both", said(branch)),
        );
      }
      this.vacuums.push({ branch, vacuumPa, deg });
    }
    return speed !== null || vacuum !== null;
  }

  private holdLine(text: string): boolean {
    const held = HOLD_LINE.exec(text);
    const failed = FAILED_HOLD_LINE.exec(text);
    if (held === null && failed === null) return false;
    if (this.hold !== null) this.fail(said("a second hold test. Keep the one that counts"));
    const [, vacuum, unit, third, fourth] = (held ?? failed) as RegExpExecArray;
    const vacuumPa = this.pascals(vacuum, unit);
    if (held === null) {
      const gotToPa = this.pascals(third, unit);
      if (gotToPa >= vacuumPa)
        this.fail(said("it reached what was wanted: write how long it was held"));
      this.hold = { reached: false, vacuumPa, gotToPa };
    } else {
      const dropPa = this.pascals(fourth, unit);
      if (dropPa > vacuumPa) this.fail(said("it cannot drop by more than there was"));
      const seconds = Number(third);
      this.within(said("a hold in seconds"), seconds, 1, 3600);
      this.hold = { reached: true, vacuumPa, seconds, dropPa };
    }
    return true;
  }

  private setting(text: string): boolean {
    const [, key, value] = SETTING_LINE.exec(text) ?? [];
    if (key === undefined || value === undefined) return false;
    if (this.settings.has(key)) this.fail(said('"{}" is given twice', key));
    this.settings.set(key, { line: this.line, value });
    return true;
  }

  private pascals(value: string | undefined, unit: string | undefined): number {
    const vacuumPa = pascalsFrom(Number(value), unit as VacuumUnit);
    this.within(said("a vacuum in Pa"), vacuumPa, 0, 101_325);
    return vacuumPa;
  }

  private within(what: Said | string, value: number, min: number, max: number): void {
    if (!(value >= min && value <= max))
      this.fail(said("{} is not {} from {} to {}", value, what, min, max));
  }

  /** Each setting is taken once; what is left at the end is not known. */
  private take(key: string): string | null {
    const setting = this.settings.get(key);
    if (setting === undefined) return null;
    this.settings.delete(key);
    this.line = setting.line;
    return setting.value;
  }

  private oneOf<T extends string>(key: string, allowed: readonly T[]): T {
    const value = this.take(key);
    const words = allowed.join(" or ");
    if (value === null) return this.lacks(said('a line "{}: {}" is missing', key, words));
    const found = allowed.find((one) => one === value);
    return found ?? this.fail(said('"{}" is not {}', value, words));
  }

  private yesOrNo(key: string): boolean | null {
    const value = this.take(key);
    if (value === null) return null;
    if (value !== "yes" && value !== "no") this.fail(said('"{}" is neither yes nor no', value));
    return value === "yes";
  }

  private number(key: string, min: number, max: number): number | null {
    const value = this.take(key);
    if (value === null) return null;
    if (!new RegExp(`^${NUMBER}$`).test(value)) this.fail(said('"{}" is not a number', value));
    this.within(`"${key}"`, Number(value), min, max);
    return Number(value);
  }

  private vacuum(key: string): number | null {
    const value = this.take(key);
    if (value === null) return null;
    const [, number, unit] = new RegExp(`^${NUMBER}\\s*${UNIT}$`).exec(value) ?? [];
    if (number === undefined) this.fail(said('"{}" is no vacuum such as "0.5 inHg"', value));
    const pascals = this.pascals(number, unit);
    return pascals > 0 ? pascals : this.fail(said("an uncertainty is never nothing"));
  }

  /** A timing light needs an engine that runs. */
  private atRest(means: ByHandMeans): number {
    if (means === "timing light" && this.vacuums.length > 0) {
      return this.lacks(
        said('a line "vacuum rpm: N" is missing, the speed at which vacuum was read'),
      );
    }
    return 0;
  }

  private lacks(what: Said): never {
    throw new BobweightError("NOTES_INVALID", said("{}: {}.", this.name, what));
  }

  private fail(what: Said): never {
    throw new BobweightError("NOTES_INVALID", said("{}, line {}: {}.", this.name, this.line, what));
  }
}
