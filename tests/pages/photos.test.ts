import sharp from "sharp";
import supertest from "supertest";
import { v7 } from "uuid";
import { afterAll, beforeAll, beforeEach, describe, expect, test } from "vitest";
import { mostPhotoBytes, photoWords } from "../../src/rules/photo.ts";
import { type Client, signedIn, type TestApp } from "../support/app.ts";
import { type Member, startAtEntry } from "../support/at-entry.ts";
import { buildMember } from "../support/build.ts";
import { enter } from "../support/build-items.ts";
import { errorLinks } from "../support/html.ts";
import { anotherPhoto, bomb, phonePhoto } from "../support/photos.ts";

let base: TestApp;
let member: Member;
let sale: { id: string };
let own: Client;
let other: Client;
let desk: Client;
let cashier: Client;
let treasurer: Client;
let item: { id: string; tag: string };
let path: string;

beforeAll(async () => {
  ({ base, member, own, sale } = await startAtEntry());
  other = await signedIn(base, await buildMember(base.db));
  desk = await signedIn(base, await buildMember(base.db, ["desk"]));
  cashier = await signedIn(base, await buildMember(base.db, ["cashier"]));
  treasurer = await signedIn(base, await buildMember(base.db, ["treasurer"]));
});
afterAll(() => base.close());
beforeEach(async () => {
  item = await enter(base.db, member, sale, { description: "Moss & straw scarf" });
  path = `/items/${item.id}/photos`;
});

const kept = () =>
  base.db.itemPhoto.findMany({
    where: { itemId: item.id, removedAt: null },
    include: { files: true },
    orderBy: { position: "asc" },
  });
const plain = (html: string) => html.replaceAll("&#x3D;", "=").replaceAll("&amp;", "&");

async function addSome(count: number) {
  for (let done = 0; done < count; done += 1)
    expect((await own.upload(path, { alt: "" }, await anotherPhoto())).status).toBe(303);
  return kept();
}

describe("photos of a piece", () => {
  test("a member adds one, and it stands on the piece, in the list and at the desk", async () => {
    const answer = await own.upload(path, { alt: "Both ends with fringe" }, await phonePhoto());
    expect([answer.status, answer.headers.location]).toEqual([303, `/items/${item.id}#photos`]);
    const [photo] = await kept();
    const small = `${path}/${photo?.id}/small.jpg`;
    for (const [client, where] of [
      [own, `/items/${item.id}`],
      [own, `/items?sale=${sale.id}`],
      [own, path],
      [desk, `/desk/items/${item.tag}`],
      [treasurer, `/items/${item.id}`],
    ] as const) {
      const page = await client.visit(where);
      expect([where, page.status, page.text.includes(`src="${small}"`)]).toEqual([
        where,
        200,
        true,
      ]);
    }
    expect((await own.visit(path)).text).toContain('alt="Both ends with fringe"');
    const audit = await base.db.audit.findFirst({
      where: { subjectId: item.id, deed: "add-photo" },
    });
    expect(audit).toMatchObject({ byId: member.id, detail: { tag: item.tag, place: 1 } });
  });

  test("the picture comes with its kind, is kept by this browser alone and asked for each time", async () => {
    const [photo] = await addSome(1);
    const first = await own.visit(`${path}/${photo?.id}/large.jpg`);
    expect(first.status).toBe(200);
    expect(first.headers).toMatchObject({
      "content-type": "image/jpeg",
      "cache-control": "private, no-cache",
      "x-content-type-options": "nosniff",
    });
    const sha = photo?.files.find(({ size }) => size === "large")?.sha256;
    expect(first.headers.etag).toBe(`"${sha}"`);
    expect((await sharp(first.body as Buffer).metadata()).format).toBe("jpeg");
    const again = await own
      .visit(`${path}/${photo?.id}/large.jpg`)
      .set("if-none-match", String(first.headers.etag));
    expect([again.status, again.text]).toEqual([304, ""]);
  });

  test("those who handle everybody's pieces see it, and nobody else learns that it is there", async () => {
    const [photo] = await addSome(1);
    const picture = `${path}/${photo?.id}/small.jpg`;
    for (const one of [own, desk, cashier, treasurer])
      expect((await one.visit(picture)).status).toBe(200);
    expect((await other.visit(picture)).status).toBe(404);
    expect((await other.visit(path)).status).toBe(404);
    expect((await treasurer.visit(path)).status).toBe(404);
    expect((await own.visit(`${path}/${v7()}/small.jpg`)).status).toBe(404);
    expect((await own.visit(`${path}/${photo?.id}/original.jpg`)).status).toBe(404);
    const elsewhere = await enter(base.db, member, sale);
    const wrong = `/items/${elsewhere.id}/photos/${photo?.id}/small.jpg`;
    expect((await own.visit(wrong)).status).toBe(404);
    const stranger = await supertest(base.app.server).get(picture);
    expect([stranger.status, stranger.headers["content-type"]]).not.toEqual([200, "image/jpeg"]);
  });

  test("a stranger's upload, change and removal answer as if the piece were unknown", async () => {
    const [photo] = await addSome(1);
    const sent = [
      await other.upload(path, {}, await anotherPhoto()),
      await other.submit(`${path}/${photo?.id}`, { version: "1" }),
      await other.submit(`${path}/${photo?.id}/removal`),
    ];
    expect(sent.map(({ status }) => status)).toEqual([404, 404, 404]);
    expect((await kept()).length).toBe(1);
    expect((await desk.upload(path, {}, await anotherPhoto())).status).toBe(303);
  });

  test("the same file twice is one photo, and a form sent twice adds once", async () => {
    const file = await anotherPhoto();
    const key = v7();
    const both = await Promise.all([
      own.upload(path, { alt: "" }, file, key),
      own.upload(path, { alt: "" }, file, key),
    ]);
    const later = await own.upload(path, { alt: "" }, file);
    expect([...both, later].map(({ status }) => status)).toEqual([303, 303, 303]);
    expect((await kept()).length).toBe(1);
  });

  test("a fifth is refused, also when it comes at the same moment as the fourth", async () => {
    await addSome(3);
    const files = [await anotherPhoto(), await anotherPhoto(), await anotherPhoto()];
    const sent = await Promise.all(files.map((file) => own.upload(path, {}, file)));
    expect(sent.map(({ status }) => status).sort()).toEqual([303, 409, 409]);
    expect((await kept()).map(({ position }) => position)).toEqual([1, 2, 3, 4]);
    const page = await own.visit(path);
    expect(page.text).toContain(photoWords.full);
    expect(page.text).not.toContain('type="file"');
  });

  test.each<[string, () => Promise<Buffer>, string]>([
    ["a text with the name of a photo", async () => Buffer.from("not a photo"), photoWords.other],
    ["a bomb", () => bomb(), photoWords.tooManyPixels],
    ["nothing", async () => Buffer.alloc(0), photoWords.none],
    [
      "far too many bytes",
      async () => Buffer.concat([await phonePhoto(), Buffer.alloc(mostPhotoBytes * 2)]),
      photoWords.tooLarge,
    ],
  ])("%s is refused at its field, and the page and the words stand", async (_name, file, words) => {
    await addSome(1);
    const answer = await own.upload(path, { alt: "With <fringe>" }, await file());
    expect([answer.status, errorLinks(answer.text)]).toEqual([400, ["file"]]);
    expect(answer.text).toContain(words);
    expect(answer.text).toContain('value="With &lt;fringe&gt;"');
    expect(answer.text).toContain("/small.jpg");
    expect((await kept()).length).toBe(1);
  });

  test("a form without its token, or without a file, adds nothing", async () => {
    const forged = await own.upload(path, { _csrf: "guessed" }, await anotherPhoto());
    expect(forged.status).toBe(403);
    const empty = await own.upload(path, { alt: "words" }, "");
    expect([empty.status, errorLinks(empty.text)]).toEqual([400, ["file"]]);
    expect(await kept()).toEqual([]);
  });
});

describe("changing photos", () => {
  const change = (id: string | undefined, fields: Record<string, string>, version = 1) =>
    own.submit(`${path}/${id}`, {
      version: String(version),
      ...Object.fromEntries(
        Object.entries(fields).map(([name, value]) => [`photos.${id}.${name}`, value]),
      ),
    });

  test("one gets other words and the first place, and the others make room", async () => {
    const before = (await addSome(3)).map(({ id }) => id);
    const done = await change(before[2], { alt: "The edge", position: "1" });
    expect(done.status).toBe(303);
    const after = await kept();
    expect(after.map(({ id }) => id)).toEqual([before[2], before[0], before[1]]);
    expect(after.map(({ alt, version }) => [alt, version])).toEqual([
      ["The edge", 2],
      ["", 1],
      ["", 1],
    ]);
    expect((await change(before[2], { alt: "", position: "3" }, 2)).status).toBe(303);
    expect((await kept()).map(({ id }) => id)).toEqual(before);
    expect(plain((await own.visit(path)).text)).toContain('alt="Moss & straw scarf"');
  });

  test("an old version, a place that is none and words that are too long change nothing", async () => {
    const [photo] = await addSome(2);
    expect((await change(photo?.id, { alt: "New" }, 7)).status).toBe(409);
    for (const [fields, field] of [
      [{ alt: "x".repeat(201) }, "alt"],
      [{ alt: "", position: "3" }, "position"],
      [{ alt: "", position: "9" }, "position"],
    ] as const) {
      const answer = await change(photo?.id, fields);
      expect([answer.status, errorLinks(answer.text)]).toEqual([
        400,
        [`photos.${photo?.id}.${field}`],
      ]);
    }
    expect((await kept()).map(({ alt, position }) => [alt, position])).toEqual([
      ["", 1],
      ["", 2],
    ]);
  });

  test("a removed photo leaves a row and an audit, no picture, and its place to another", async () => {
    const [first, second] = await addSome(2);
    const done = await own.submit(`${path}/${first?.id}/removal`);
    expect([done.status, done.headers.location]).toEqual([303, path]);
    expect((await own.visit(`${path}/${first?.id}/small.jpg`)).status).toBe(404);
    expect((await kept()).map(({ id, position }) => [id, position])).toEqual([[second?.id, 1]]);
    const photoId = String(first?.id);
    expect(await base.db.itemPhotoFile.count({ where: { photoId } })).toBe(0);
    expect(await base.db.itemPhoto.findUnique({ where: { id: photoId } })).toMatchObject({
      removedAt: expect.any(Date),
    });
    const deeds = await base.db.audit.findMany({ where: { subjectId: item.id } });
    expect(deeds.map(({ deed }) => deed)).toContain("remove-photo");
    expect((await own.submit(`${path}/${first?.id}/removal`)).status).toBe(404);
    await addSome(3);
    expect((await kept()).map(({ position }) => position)).toEqual([1, 2, 3, 4]);
  });
});
