import { createHmac } from "node:crypto";
import supertest from "supertest";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { editMember } from "../../src/actions/edit-member.ts";
import { hashPassphrase } from "../../src/actions/passphrase.ts";
import { secret, signedIn, startApp, type TestApp } from "../support/app.ts";
import { buildGuild, buildMember, deedOf } from "../support/build.ts";

let base: TestApp;
let member: Awaited<ReturnType<typeof buildMember>>;
const passphrase = "seven shuttles in a basket";

beforeAll(async () => {
  base = await startApp();
  await buildGuild(base.db);
  const passphraseHash = await hashPassphrase(passphrase);
  await buildMember(base.db, ["chair"]);
  member = await buildMember(base.db, ["member"], { passphraseHash });
});
afterAll(() => base.close());

const part = (value: object) => Buffer.from(JSON.stringify(value)).toString("base64url");
const signed = (header: object, claims: object, key = secret, hash = "sha256") => {
  const text = `${part(header)}.${part(claims)}`;
  return `${text}.${createHmac(hash, key).update(text).digest("base64url")}`;
};
const whoAmI = (token: string) =>
  supertest(base.app.server).get("/api/session").set("authorization", `Bearer ${token}`);

describe("an access token made by hand", () => {
  const header = { alg: "HS256", typ: "thrumbook-access+jwt" };
  const now = Math.floor(Date.now() / 1000);
  let claims: Record<string, unknown>;

  beforeAll(async () => {
    const { sessionId } = await signedIn(base, member);
    claims = {
      sub: member.id,
      sid: sessionId,
      iat: now,
      exp: now + 600,
      iss: "thrumbook",
      aud: "thrumbook",
    };
  });

  test("counts when everything about it is right", async () => {
    const answer = await whoAmI(signed(header, claims));
    expect(answer.body).toMatchObject({ id: member.id, number: member.number });
  });

  test.each<[string, object, object]>([
    ["another type", { ...header, typ: "JWT" }, {}],
    ["no type", { alg: "HS256" }, {}],
    ["another audience", header, { aud: "elsewhere" }],
    ["another issuer", header, { iss: "elsewhere" }],
    ["an age that is over", header, { iat: now - 700, exp: now - 60 }],
    ["no end", header, { exp: undefined }],
    ["no session", header, { sid: undefined }],
    ["a session that never was", header, { sid: "01900000-0000-7000-8000-000000000000" }],
  ])("does not count with %s", async (_what, head, more) => {
    expect((await whoAmI(signed(head, { ...claims, ...more }))).status).toBe(401);
  });

  test("does not count unsigned, signed otherwise or changed afterwards", async () => {
    const right = signed(header, claims);
    const [head, , signature] = right.split(".");
    const swapped = part({ ...claims, sub: "01900000-0000-7000-8000-000000000000", x: 1 });
    const wrong = [
      `${part({ ...header, alg: "none" })}.${part(claims)}.`,
      `${part({ ...header, alg: "none" })}.${part(claims)}.${signature}`,
      signed({ ...header, alg: "HS512" }, claims, secret, "sha512"),
      signed(header, claims, "another secret that is long enough, too"),
      `${head}.${swapped}.${signature}`,
      right.slice(0, -3),
      "x.y.z",
    ];
    for (const token of wrong) expect((await whoAmI(token)).status, token).toBe(401);
  });
});

describe("a session", () => {
  test("that is ended ends the access at once, whatever its token says", async () => {
    const client = await signedIn(base, member);
    expect((await client.get("/api/session")).status).toBe(200);
    expect((await client.delete("/api/session")).status).toBe(204);
    expect((await client.get("/api/session")).status).toBe(401);
    expect((await client.visit("/")).headers.location).toBe("/sign-in?next=%2F");
  });

  test("that is too old does not count", async () => {
    const client = await signedIn(base, member);
    base.at(new Date(Date.now() + 41 * 86_400_000));
    expect((await client.get("/api/session")).status).toBe(401);
    base.at(new Date());
  });

  test("ends with the person's rest, and loses a role with its next request", async () => {
    const chair = await base.db.member.findFirstOrThrow({ where: { roles: { has: "chair" } } });
    const other = await buildMember(base.db, ["treasurer"]);
    const client = await signedIn(base, other);
    expect((await client.get("/api/members")).status).toBe(200);
    const deed = deedOf(base.db, chair);
    await editMember(deed, other.id, { version: 1, roles: ["member"] });
    expect((await client.get("/api/members")).status).toBe(403);
    await editMember(deed, other.id, { version: 2, status: "resting" });
    expect((await client.get("/api/session")).status).toBe(401);
  });
});

describe("refresh tokens", () => {
  const signIn = async () => {
    const answer = await supertest(base.app.server)
      .post("/api/session")
      .send({ identifier: String(member.number), passphrase });
    expect(answer.status).toBe(201);
    return answer.body as { accessToken: string; refreshToken: string };
  };
  const refresh = (refreshToken: string) =>
    supertest(base.app.server).post("/api/session/refresh").send({ refreshToken });

  test("are exchanged for new ones, and each one counts once", async () => {
    const first = await signIn();
    const second = await refresh(first.refreshToken);
    expect(second.body.refreshToken).not.toBe(first.refreshToken);
    expect((await whoAmI(second.body.accessToken)).status).toBe(200);
    expect((await refresh("made-up")).status).toBe(401);
  });

  test("used by two tabs at once keep both signed in", async () => {
    const { refreshToken } = await signIn();
    const both = await Promise.all([refresh(refreshToken), refresh(refreshToken)]);
    expect(both.map((answer) => answer.status)).toEqual([200, 200]);
    expect(both.filter((answer) => answer.body.refreshToken)).toHaveLength(1);
  });

  test("used again later end the whole session: somebody has copied one", async () => {
    const { refreshToken, accessToken } = await signIn();
    const next = await refresh(refreshToken);
    base.at(new Date(Date.now() + 61_000));
    expect((await refresh(refreshToken)).status).toBe(401);
    expect((await refresh(next.body.refreshToken)).status).toBe(401);
    expect((await whoAmI(accessToken)).status).toBe(401);
    base.at(new Date());
  });

  test("renew a page's cookies on the way, unnoticed", async () => {
    const { refreshToken } = await signIn();
    const page = await supertest(base.app.server)
      .get("/account")
      .set("cookie", `thrumbook-refresh=${refreshToken}`);
    expect(page.status).toBe(200);
    const cookies = [page.headers["set-cookie"] ?? []].flat().join("\n");
    expect(cookies).toContain("thrumbook-access=");
    expect(cookies).toContain("thrumbook-refresh=");
    for (const line of cookies.split("\n")) expect(line).toMatch(/HttpOnly.*SameSite=Lax/);
  });
});
