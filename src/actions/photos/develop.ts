import sharp from "sharp";
import {
  longestSide,
  mostPixels,
  type PhotoSize,
  photoWords,
  readablePhoto,
} from "../../rules/photo.ts";
import { ok, type Result, refuseField } from "../../rules/problem.ts";

// One picture at a time on one thread, and nothing kept: a server in a hall has other work.
sharp.cache(false);
sharp.concurrency(1);
// Whatever else the library can read, our server opens three kinds of file and no other.
sharp.block({ operation: ["VipsForeignLoad"] });
sharp.unblock({
  operation: ["VipsForeignLoadJpegBuffer", "VipsForeignLoadPngBuffer", "VipsForeignLoadWebpBuffer"],
});

/** A picture of ours: a JPEG in sRGB that says nothing about camera, place or person. */
export interface Developed {
  size: PhotoSize;
  width: number;
  height: number;
  bytes: Uint8Array<ArrayBuffer>;
}

let queue: Promise<unknown> = Promise.resolve();

/**
 * Makes our two sizes of what was sent, turned as the camera was held. The bytes that were sent go
 * nowhere else. Pictures wait for one another, so that many at once never fill the memory.
 */
export function develop(sent: Uint8Array): Promise<Result<Developed[]>> {
  const kind = readablePhoto(sent);
  if (!kind.ok) return Promise.resolve(kind);
  const developed = queue.then(() => bothSizes(sent));
  queue = developed;
  return developed;
}

async function bothSizes(sent: Uint8Array): Promise<Result<Developed[]>> {
  try {
    const large = await ofSize(sent, "large");
    return ok([large, await ofSize(large.bytes, "small")]);
  } catch (error) {
    // What the library says quotes its insides; these are all faults of the file.
    const tooMany = /pixel limit/.test(String(error));
    return refuseField("file", tooMany ? photoWords.tooManyPixels : photoWords.damaged);
  }
}

async function ofSize(from: Uint8Array, size: PhotoSize): Promise<Developed> {
  const side = longestSide[size];
  // Half a picture is refused; a phone's harmless oddities are not.
  const { data, info } = await sharp(from, { failOn: "error", limitInputPixels: mostPixels })
    .autoOrient()
    .resize({ width: side, height: side, fit: "inside", withoutEnlargement: true })
    .flatten({ background: "#ffffff" })
    // Every second point of a colour would be lost otherwise, and with it the stripes of a cloth.
    .jpeg({ quality: 80, mozjpeg: true, chromaSubsampling: "4:4:4" })
    .timeout({ seconds: 20 })
    .toBuffer({ resolveWithObject: true });
  return { size, width: info.width, height: info.height, bytes: new Uint8Array(data) };
}
