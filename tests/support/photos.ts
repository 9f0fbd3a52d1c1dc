import { randomFillSync } from "node:crypto";
import sharp from "sharp";

/** A photo as a phone makes it: held on its side, with the place and the camera noted in it. */
export const phonePhoto = (width = 2_400, height = 1_200): Promise<Buffer> =>
  sharp({ create: { width, height, channels: 3, background: "#336699" } })
    .composite([{ input: block("#cc0000"), left: 0, top: 0 }])
    .withExif({
      IFD0: { Make: "Loom", Model: "Weaver's phone", Artist: "Member 104" },
      IFD3: {
        GPSLatitudeRef: "N",
        GPSLatitude: "59/1 54/1 0/1",
        GPSLongitudeRef: "E",
        GPSLongitude: "10/1 45/1 0/1",
      },
    })
    .withXmp('<x:xmpmeta xmlns:x="adobe:ns:meta/">Member 104</x:xmpmeta>')
    .withMetadata({ orientation: 6 })
    .jpeg()
    .toBuffer();

const block = (background: string) => ({
  create: { width: 200, height: 200, channels: 3 as const, background },
});

/** Another picture at every call. */
export function anotherPhoto(width = 40, height = 30): Promise<Buffer> {
  const pixels = randomFillSync(Buffer.alloc(width * height * 3));
  return sharp(pixels, { raw: { width, height, channels: 3 } })
    .png()
    .toBuffer();
}

/** A small file that unpacks to far more than fits into a memory. */
export const bomb = (side = 7_200): Promise<Buffer> =>
  sharp({
    create: { width: side, height: side, channels: 3, background: "#888888" },
    limitInputPixels: false,
  })
    .png({ compressionLevel: 1 })
    .toBuffer();
