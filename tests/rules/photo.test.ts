import { expect, test } from "vitest";
import { mostPhotoBytes, photoWords, readablePhoto } from "../../src/rules/photo.ts";

const file = (...parts: (string | number[])[]) =>
  Uint8Array.from(
    parts.flatMap((part) => (typeof part === "string" ? [...Buffer.from(part, "latin1")] : part)),
  );

test.each([
  ["jpeg", file([0xff, 0xd8, 0xff, 0xe0], "JFIF")],
  ["png", file([0x89], "PNG\r\n\x1a\n", "IHDR")],
  ["webp", file("RIFF", [9, 0, 0, 0], "WEBPVP8 ")],
])("a %s is known by its first bytes", (kind, bytes) => {
  expect(readablePhoto(bytes)).toEqual({ ok: true, value: kind });
});

test.each([
  ["nothing", file(), photoWords.none],
  ["a phone's HEIC", file([0, 0, 0, 24], "ftypheic", [0]), photoWords.heic],
  ["a HEIC under its common name", file([0, 0, 0, 24], "ftypmif1", [0]), photoWords.heic],
  ["a film", file([0, 0, 0, 24], "ftypisom", [0]), photoWords.other],
  ["a text", file("A scarf, not a photo of one"), photoWords.other],
  [
    "sound in the same wrapping as a WebP",
    file("RIFF", [9, 0, 0, 0], "WAVEfmt "),
    photoWords.other,
  ],
  ["a drawing with a program in it", file("<svg onload='x()'>"), photoWords.other],
])("%s is refused, and the words say what to do", (_name, bytes, words) => {
  const read = readablePhoto(bytes);
  expect(read.ok ? "taken" : read.problem.errors).toEqual([{ field: "file", message: words }]);
});

test("the limit of size is the last byte that is taken", () => {
  const large = new Uint8Array(mostPhotoBytes + 1);
  large.set([0xff, 0xd8, 0xff]);
  expect(readablePhoto(large.subarray(0, mostPhotoBytes)).ok).toBe(true);
  expect(readablePhoto(large)).toMatchObject({ problem: { detail: photoWords.tooLarge } });
});
