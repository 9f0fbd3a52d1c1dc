import { v7 } from "uuid";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type Client, signedIn, type TestApp } from "../support/app.ts";
import { type Member, startAtEntry } from "../support/at-entry.ts";
import { buildMember } from "../support/build.ts";
import { early, enter } from "../support/build-items.ts";

let base: TestApp;
let member: Member;
let own: Client;
let other: Client;
let sale: { id: string };

beforeAll(async () => {
  ({ base, member, own, sale } = await startAtEntry());
  other = await signedIn(base, await buildMember(base.db));
});
afterAll(() => base.close());

describe("an item's answers", () => {
  const answersOf = (id: string, version: number, more: object = {}) => ({
    path: `/api/items/${id}/answers`,
    body: { version, answers: { surface: "raised" }, cloth: null, ...more },
  });

  test("change what is printed and what the desk does; the same key does it once", async () => {
    const { id } = await enter(base.db, member, sale, {
      fibres: [{ fibre: "cotton", percent: 100 }],
    });
    const { path, body } = answersOf(id, 1);
    const key = v7();
    const both = await Promise.all([own.put(path, body, key), own.put(path, body, key)]);
    expect(both.map(({ status }) => status)).toEqual([200, 200]);
    expect((await own.get(`/api/items/${id}`)).body.version).toBe(2);
    const label = (await own.get(`/api/items/${id}/label`)).body;
    expect(label.caution.outcome).toBe("hold");
    expect(label.caution.lines[0].text).toBe("Keep away from flame.");
  });

  test("two people at once: one is kept, the other is told", async () => {
    const { id } = await enter(base.db, member, sale);
    const { path, body } = answersOf(id, 1);
    const both = await Promise.all([
      own.put(path, body),
      own.put(path, { ...body, answers: { surface: "open" } }),
    ]);
    expect(both.map(({ status }) => status).sort()).toEqual([200, 409]);
  });

  test("a wrong answer, a foreign item and one that has come are refused", async () => {
    const { id } = await enter(base.db, member, sale);
    const wrong = answersOf(id, 1, { answers: { surface: "fluffy" } });
    const answer = await own.put(wrong.path, wrong.body);
    expect(answer.status).toBe(400);
    expect(answer.body.errors[0].field).toBe("answers.surface");
    const { path, body } = answersOf(id, 1);
    expect((await other.put(path, body)).status).toBe(404);
    expect((await other.get(`/api/items/${id}/label`)).status).toBe(404);
    expect(
      (await own.put(path, { ...body, cloth: { milligrams: 0, length: 1, width: 1 } })).status,
    ).toBe(400);
  });
});

describe("details that come with an item", () => {
  const entry = (label: object, more: object = {}) =>
    own.post(`/api/sales/${sale.id}/items`, {
      kind: "towel",
      description: "Towel",
      price: 4_500,
      fibres: [{ fibre: "wool", percent: 100 }],
      label,
      agreementVersion: 1,
      ...more,
    });

  test("who tested harder care, and when, is kept; a client cannot say so itself", async () => {
    const care = { chosen: { wash: "machine-40" }, tested: true };
    const made = await entry({ care });
    expect(made.status).toBe(201);
    expect(made.body.label.care).toEqual({
      ...care,
      testedBy: `${member.number} ${member.name}`,
      testedAt: early.toISOString(),
    });
    const forged = await entry({ care: { ...care, testedBy: "somebody else" } });
    expect(forged.status).toBe(400);
    const untested = await entry({ care: { ...care, tested: false } });
    expect(untested.status).toBe(400);
    expect(untested.body.errors[0].field).toBe("label.care.tested");
  });

  test("an edit without them leaves them as they are", async () => {
    const { body } = await entry({ finishes: ["fulled"] });
    const { kind, description, fibres, price, version } = body;
    const edited = await own.patch(`/api/items/${body.id}`, {
      kind,
      description,
      fibres,
      price: price + 500,
      version,
    });
    expect(edited.status).toBe(200);
    expect(edited.body.label.finishes).toEqual(["fulled"]);
  });

  test("yarns take the place of percentages", async () => {
    const yarn = {
      place: "warp",
      amount: { unit: "g", thousandths: 90_000 },
      blend: [{ fibre: "cotton", percent: 100 }],
    };
    const made = await entry({ yarns: [yarn] }, { fibres: [] });
    expect(made.status).toBe(201);
    const both = await entry({ yarns: [yarn] });
    expect(both.body.errors[0].field).toBe("fibres");
    const noNumber = await entry(
      { yarns: [{ ...yarn, amount: { unit: "m", thousandths: 9_000 } }] },
      { fibres: [] },
    );
    expect(noNumber.body.errors[0].field).toBe("label.yarns.0.number");
  });
});
