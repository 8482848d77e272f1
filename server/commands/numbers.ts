// Numbers on the command line.
import { InvalidArgumentError } from "commander";

/** Parses a whole number within limits. @throws InvalidArgumentError, which ends as wrong usage */
export function wholeNumber(min: number, max: number): (text: string) => number {
  return (text) => {
    const value = Number(text);
    if (!/^\d+$/.test(text) || value < min || value > max) {
      throw new InvalidArgumentError(`It must be a whole number from ${min} to ${max}.`);
    }
    return value;
  };
}

/** Parses a number within limits. @throws InvalidArgumentError, which ends as wrong usage */
export function decimal(min: number, max: number): (text: string) => number {
  return (text) => {
    const value = Number(text);
    if (text.trim() === "" || !(value >= min && value <= max)) {
      throw new InvalidArgumentError(`It must be a number from ${min} to ${max}.`);
    }
    return value;
  };
}

/** Parses numbers with commas between. @throws InvalidArgumentError, which ends as wrong usage */
export function decimals(min: number, max: number): (text: string) => number[] {
  return (text) => text.split(",").map(decimal(min, max));
}
