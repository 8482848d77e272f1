// Whose records these tests keep.
import type { BenchName } from "../../core/documents.ts";

export const BENCH: BenchName = { id: "01890a5d-ac96-774b-bcce-b302099a8001", name: "The bench" };
