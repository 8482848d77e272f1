// The code and text of what a call throws.
import { BobweightError, type ErrorCode } from "../../core/errors.ts";

export function codeOf(call: () => unknown): { code: ErrorCode; message: string } {
  try {
    call();
  } catch (error) {
    if (error instanceof BobweightError) return { code: error.code, message: error.message };
    throw error;
  }
  throw new Error("it went through");
}
