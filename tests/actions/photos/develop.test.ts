import exifr from "exifr";
import sharp from "sharp";
import { expect, test } from "vitest";
import { develop } from "../../../src/actions/photos/develop.ts";
import { photoWords } from "../../../src/rules/photo.ts";
import { bomb, phonePhoto } from "../../support/photos.ts";

async function developed(sent: Uint8Array) {
  const done = await develop(sent);
  if (!done.ok) throw new Error(done.problem.detail);
  const [large, small] = done.value;
  if (!large || !small) throw new Error("A size is missing.");
  return { large, small };
}

/** The segments of a JPEG before its picture, as its standard (ITU-T T.81, B.1) lays them out. */
function segmentsOf(bytes: Uint8Array): number[] {
  const markers: number[] = [];
  for (let at = 2; bytes[at] === 0xff; at += 2 + bytes[at + 2]! * 256 + bytes[at + 3]!) {
    markers.push(bytes[at + 1]!);
    if (bytes[at + 1] === 0xda) break;
  }
  return markers;
}

const pixel = async (bytes: Uint8Array, left: number, top: number) => [
  ...(await sharp(bytes).extract({ left, top, width: 1, height: 1 }).raw().toBuffer()),
];

test("the photo of a phone comes out upright, and says nothing of place, camera and person", async () => {
  const sent = await phonePhoto();
  // An independent reader sees all that in what was sent.
  expect(await exifr.gps(sent)).toMatchObject({ latitude: 59.9 });
  expect(await exifr.parse(sent)).toMatchObject({ Artist: "Member 104" });
  const { large, small } = await developed(sent);
  expect([large.width, large.height]).toEqual([800, 1_600]);
  expect([small.width, small.height]).toEqual([160, 320]);
  for (const { bytes } of [large, small]) {
    expect(await exifr.gps(Buffer.from(bytes))).toBeUndefined();
    expect(await exifr.parse(Buffer.from(bytes), true)).toBeUndefined();
    // No application segment but JFIF's own, and no comment: nowhere to hide a word.
    const told = segmentsOf(bytes).filter((one) => (one > 0xe0 && one <= 0xef) || one === 0xfe);
    expect(told).toEqual([]);
    expect(Buffer.from(bytes).includes("Member 104")).toBe(false);
  }
  // The block was at the top left of a camera held on its side: turned, it is at the top right.
  const [red = 0, , blue = 255] = await pixel(large.bytes, 790, 10);
  expect(red > 180 && blue < 60).toBe(true);
  const [, , left = 0] = await pixel(large.bytes, 10, 10);
  expect(left).toBeGreaterThan(120);
});

test("colours of a wider space are brought into sRGB", async () => {
  const wide = await sharp({
    create: { width: 8, height: 8, channels: 3, background: "#40c040" },
  })
    .withIccProfile("p3")
    .png()
    .toBuffer();
  const plain = await sharp(wide).keepIccProfile().raw().toBuffer();
  const { large } = await developed(wide);
  const meta = await sharp(large.bytes).metadata();
  expect([meta.icc, meta.space, meta.format]).toEqual([undefined, "srgb", "jpeg"]);
  const [red = 0, green = 0] = await pixel(large.bytes, 4, 4);
  expect(Math.abs(red - 0x40) + Math.abs(green - 0xc0)).toBeLessThan(6);
  // Unconverted, the same picture has other figures: the conversion is what made them right.
  expect(Math.abs(plain[0]! - 0x40)).toBeGreaterThan(10);
});

test("what can be seen through becomes white, and a small picture stays as small as it is", async () => {
  const clear = { r: 255, g: 0, b: 0, alpha: 0 };
  const sent = await sharp({ create: { width: 60, height: 40, channels: 4, background: clear } })
    .webp()
    .toBuffer();
  const { large } = await developed(sent);
  expect([large.width, large.height]).toEqual([60, 40]);
  expect((await pixel(large.bytes, 5, 5)).every((part) => part > 250)).toBe(true);
});

test.each<[string, () => Promise<Uint8Array>, string]>([
  ["a small file that unpacks to 52 megapixels", () => bomb(), photoWords.tooManyPixels],
  ["half a photo", async () => (await phonePhoto()).subarray(0, 9_000), photoWords.damaged],
  [
    "a JPEG in its first bytes only",
    async () => Buffer.from([0xff, 0xd8, 0xff, 0xe0, 0, 0, 1, 2]),
    photoWords.damaged,
  ],
  ["a text", async () => Buffer.from("no picture at all"), photoWords.other],
])("%s is refused in words", async (_name, file, words) => {
  const done = await develop(await file());
  expect(done.ok ? "taken" : done.problem.errors).toEqual([{ field: "file", message: words }]);
});

test("photos wait for one another, and a bad one holds none up", async () => {
  const good = await phonePhoto(300, 200);
  const all = await Promise.all([
    develop(good),
    develop(Buffer.from([0xff, 0xd8, 0xff, 0])),
    develop(good),
  ]);
  expect(all.map((one) => one.ok)).toEqual([true, false, true]);
});
