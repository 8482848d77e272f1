// Pictures are told by the first bytes that their standards give them.
import { expect, it } from "vitest";
import { pictureType } from "../../core/jobs/photo.ts";

const bytes = (...values: readonly (number | string)[]) =>
  Uint8Array.from(
    values.flatMap((value) =>
      typeof value === "number" ? [value] : [...value].map((letter) => letter.charCodeAt(0)),
    ),
  );

it.each([
  // SOI and the marker after it (ITU-T T.81 B.1.1.3).
  [bytes(0xff, 0xd8, 0xff, 0xe0), "image/jpeg"],
  // PNG's signature (ISO/IEC 15948 § 5.2): 137 80 78 71 13 10 26 10.
  [bytes(137, 80, 78, 71, 13, 10, 26, 10, 0), "image/png"],
  // RIFF, the size, WEBP (RFC 9649 § 2.4).
  [bytes("RIFF", 1, 2, 3, 4, "WEBP"), "image/webp"],
  [bytes("RIFF", 1, 2, 3, 4, "WAVE"), null],
  [bytes("<svg xmlns"), null],
  [bytes("GIF89a"), null],
  [bytes(0xff, 0xd8), null],
  [bytes(), null],
])("%o is %s", (picture, type) => {
  expect(pictureType(picture)).toBe(type);
});
