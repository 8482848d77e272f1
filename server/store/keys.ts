// The one form of key: UUID version 7 (RFC 9562 § 5.7), so that keys sort by the time they were made.
import { v7 } from "uuid";

export function newKey(): string {
  return v7();
}
