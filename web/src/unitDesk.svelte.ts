// The units' place: what is on file, the one that is looked at, and the one that is typed.
import type { UnitOnHand, UnitsOnHand } from "../../core/messages.ts";
import { typedFrom } from "../../core/typedUnit/fromFile.ts";
import { EMPTY_UNIT, type TypedUnit } from "../../core/typedUnit/typed.ts";
import type { Unit } from "../../core/unit.ts";
import type { UnitFile } from "../../core/unitFile/schema.ts";
import { unitFromFile } from "../../core/unitFile.ts";
import type { Session } from "./session.svelte.ts";

export interface Editing {
  /** Told apart, so that each begins as it was given. */
  readonly number: number;
  readonly typed: TypedUnit;
  /** What is not typed stays as this file has it; null: a new unit. */
  readonly base: Readonly<Record<string, unknown>> | null;
  /** The unit that it becomes a new version of; null: of none. */
  readonly replaces: string | null;
}

export class UnitDesk {
  units = $state.raw<readonly { readonly onHand: UnitOnHand; readonly unit: Unit }[]>([]);
  /** Files of the data folder that cannot be read, with what is wrong. */
  passedOver = $state.raw<readonly string[]>([]);
  lookedAtId = $state("");
  lookedAt = $derived(this.units.find(({ onHand }) => onHand.id === this.lookedAtId) ?? null);
  editing = $state.raw<Editing | null>(null);
  private readonly session: Session;
  private count = 0;

  constructor(session: Session) {
    this.session = session;
  }

  async load(): Promise<void> {
    const answer = await this.session.ask<UnitsOnHand>("/api/units");
    if (answer === null) return;
    this.passedOver = answer.passedOver;
    this.units = answer.units.map((onHand) => ({
      onHand,
      unit: unitFromFile(onHand.file, onHand.id),
    }));
  }

  typeNew(): void {
    this.begin(EMPTY_UNIT, null, null);
  }

  /** An example is no unit of the workshop's, and a file is its owner's: editing one makes another. */
  edit({ id, file, addedUtc }: UnitOnHand): void {
    this.beginFrom(file, addedUtc === null ? null : id);
  }

  /** As it was before, to become the newest version again. */
  async editVersion(id: string, replaces: string): Promise<void> {
    const answer = await this.session.ask<{ file: unknown }>(`/api/units/${id}`);
    if (answer !== null) this.beginFrom(answer.file, replaces);
  }

  private beginFrom(file: unknown, replaces: string | null): void {
    this.begin(typedFrom(file as UnitFile), file as Editing["base"], replaces);
  }

  private begin(typed: TypedUnit, base: Editing["base"], replaces: string | null): void {
    this.editing = { number: ++this.count, typed, base, replaces };
  }

  /** False where it was refused. */
  async keep(name: string, text: string, replaces: string | null): Promise<boolean> {
    const id = await this.session.addUnit(name, text, replaces);
    if (id === null) return false;
    this.editing = null;
    await this.load();
    this.lookedAtId = id;
    return true;
  }
}
