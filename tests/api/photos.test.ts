import supertest from "supertest";
import { v7 } from "uuid";
import { afterAll, beforeAll, expect, test } from "vitest";
import { photoWords } from "../../src/rules/photo.ts";
import { type Client, signedIn, type TestApp } from "../support/app.ts";
import { type Member, startAtEntry } from "../support/at-entry.ts";
import { buildMember } from "../support/build.ts";
import { enter } from "../support/build-items.ts";
import { anotherPhoto } from "../support/photos.ts";

let base: TestApp;
let member: Member;
let own: Client;
let other: Client;
let path: string;

beforeAll(async () => {
  let sale: { id: string };
  ({ base, member, own, sale } = await startAtEntry());
  other = await signedIn(base, await buildMember(base.db));
  path = `/api/items/${(await enter(base.db, member, sale)).id}/photos`;
});
afterAll(() => base.close());

const send = (client: Client, file?: Buffer, fields: Record<string, string> = {}, key = v7()) => {
  const request = supertest(base.app.server)
    .post(path)
    .set("authorization", `Bearer ${client.token}`)
    .set("idempotency-key", `"${key}"`)
    .field(fields);
  return file ? request.attach("file", file, "scarf.png") : request;
};

test("photos are added, described, ordered and removed over the API", async () => {
  const first = await send(own, await anotherPhoto(400, 300), { alt: "Front" });
  expect(first.status).toBe(201);
  await send(own, await anotherPhoto());
  const { items } = (await own.get(path)).body;
  expect(items).toMatchObject([
    { alt: "Front", position: 1, large: { width: 400 }, small: { width: 320, height: 240 } },
    { alt: "Twill scarf", typedAlt: "", position: 2 },
  ]);
  const picture = await own.get(items[0].small.href);
  expect([picture.status, picture.headers["content-type"]]).toEqual([200, "image/jpeg"]);
  const moved = await own.patch(`${path}/${items[1].id}`, { version: 1, alt: "Back", position: 1 });
  expect(moved.body.items.map(({ alt }: { alt: string }) => alt)).toEqual(["Back", "Front"]);
  const stale = await own.patch(`${path}/${items[1].id}`, { version: 1, alt: "Other" });
  expect([stale.status, stale.body.code]).toEqual([409, "changed-meanwhile"]);
  const left = await own.delete(`${path}/${items[1].id}`);
  expect(left.body.items).toMatchObject([{ id: items[0].id, position: 1, version: 1 }]);
});

test("what is wrong is refused by its field, and strangers find nothing", async () => {
  const told = async (answer: { status: number; body: { errors?: { message: string }[] } }) => [
    answer.status,
    answer.body.errors?.[0]?.message,
  ];
  expect(await told(await send(own, undefined, { alt: "Front" }))).toEqual([400, photoWords.none]);
  expect(await told(await send(own, Buffer.from("text")))).toEqual([400, photoWords.other]);
  const long = await send(own, await anotherPhoto(), { alt: "x".repeat(201) });
  expect(await told(long)).toEqual([400, "Use at most 200 characters"]);
  expect((await own.post(path, { file: "text", alt: "" })).status).toBe(400);
  expect((await own.post(path, {})).status).toBe(400);
  expect((await send(other, await anotherPhoto())).status).toBe(404);
  expect((await other.get(path)).status).toBe(404);
  expect((await other.delete(`${path}/${v7()}`)).status).toBe(404);
});

test("the document says that a photo comes as a form with a file", async () => {
  const { paths } = (await base.app.inject("/api/openapi.json")).json();
  const { content } = paths["/api/items/{id}/photos"].post.requestBody;
  expect(content["multipart/form-data"].schema.properties.file).toMatchObject({
    ...{ type: "string", format: "binary" },
  });
});
