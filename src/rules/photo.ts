import { ok, type Result, refuseField } from "./problem.ts";

/** So many photos show a piece from both sides, its edge and how it is worn. */
export const mostPhotos = 4;

/** 12 MB: a phone's largest JPEG is smaller. */
export const mostPhotoBytes = 12_000_000;

/** 50 megapixels. A small file can unpack to far more, and that would fill the server's memory. */
export const mostPixels = 50_000_000;

export const photoSizes = ["large", "small"] as const;
export type PhotoSize = (typeof photoSizes)[number];

/** The longer side of each size in pixels: a screen full, and a thumbnail on a sharp screen. */
export const longestSide: Readonly<Record<PhotoSize, number>> = { large: 1_600, small: 320 };

export const longestAlt = 200;

const sendAs = "Save it as a JPEG or PNG picture and choose that.";

export const photoWords = {
  none: "Choose a photo first.",
  tooLarge: `This photo has more than ${mostPhotoBytes / 1_000_000} MB. Choose a smaller one, or make it smaller first.`,
  tooManyPixels: `This photo has more than ${mostPixels / 1_000_000} million points, more than any screen shows. Make it smaller first, for example 3000 points wide.`,
  heic: `This is a HEIC picture, as some phones keep them, and we cannot read those. ${sendAs}`,
  other: `This is not a photo that we can read: we take JPEG, PNG and WebP pictures. ${sendAs}`,
  damaged:
    "This photo cannot be opened: the file is damaged, or it did not arrive whole. Try once more, or choose another.",
  full: `A piece has room for ${mostPhotos} photos. Remove one first, then add this one.`,
} as const;

const startsWith = (bytes: Uint8Array, at: number, sign: string): boolean =>
  [...sign].every((letter, index) => bytes[at + index] === letter.charCodeAt(0));

/** The brands of ISO/IEC 23008-12 (HEIF) with pictures that need a licensed reader. */
const heicBrands = ["heic", "heix", "heim", "heis", "hevc", "hevx", "mif1", "msf1"];

/** Told by its first bytes, never by its name: which of the kinds that we read this picture is. */
export function readablePhoto(bytes: Uint8Array): Result<"jpeg" | "png" | "webp"> {
  const field = "file";
  if (bytes.length === 0) return refuseField(field, photoWords.none);
  if (bytes.length > mostPhotoBytes) return refuseField(field, photoWords.tooLarge);
  if (startsWith(bytes, 0, "\xff\xd8\xff")) return ok("jpeg");
  if (startsWith(bytes, 0, "\x89PNG\r\n\x1a\n")) return ok("png");
  if (startsWith(bytes, 0, "RIFF") && startsWith(bytes, 8, "WEBP")) return ok("webp");
  const heic = startsWith(bytes, 4, "ftyp") && heicBrands.some((one) => startsWith(bytes, 8, one));
  return refuseField(field, heic ? photoWords.heic : photoWords.other);
}
