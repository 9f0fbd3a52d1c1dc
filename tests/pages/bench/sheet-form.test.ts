import { afterAll, beforeAll, describe, expect, test } from "vitest";
import type { WarpSheet } from "../../../src/rules/weave/sheet.ts";
import { type Client, signedIn, type TestApp } from "../../support/app.ts";
import { type Member, startAtEntry } from "../../support/at-entry.ts";
import { buildMember } from "../../support/build.ts";
import { formFields } from "../../support/form.ts";
import { errorLinks } from "../../support/html.ts";

let base: TestApp;
let member: Member;
let own: Client;

beforeAll(async () => {
  ({ base, member, own } = await startAtEntry());
});
afterAll(() => base.close());

const create = "/bench/sheets";
const fresh = async (preset: string, units = "inch") =>
  formFields((await own.visit(`/bench/sheets/new?preset=${preset}&units=${units}`)).text, create);

const idIn = (location = ""): string => /sheets\/([0-9a-f-]{36})/.exec(location)?.[1] ?? "";

async function kept(fields: Record<string, string>): Promise<{ id: string; sheet: WarpSheet }> {
  const answer = await own.submit(create, fields);
  expect({ status: answer.status, wrong: errorLinks(answer.text) }).toEqual({
    ...{ status: 303, wrong: [] },
  });
  return stored(idIn(answer.headers.location));
}

async function stored(id: string): Promise<{ id: string; sheet: WarpSheet }> {
  const row = await base.db.warpSheet.findUniqueOrThrow({ where: { id } });
  return { id, sheet: row.sheet as unknown as WarpSheet };
}

describe("a new sheet", () => {
  test.each(["towels", "scarf", "placemats", "rug"])(
    "%s as they come are a whole sheet, in both units",
    async (preset) => {
      const inch = await kept(await fresh(preset));
      const metric = await kept(await fresh(preset, "metric"));
      expect([inch.sheet.units, metric.sheet.units]).toEqual(["inch", "metric"]);
      expect(metric.sheet.width.unit).toBe("cm");
      expect((await own.visit(`/bench/sheets/${metric.id}`)).status).toBe(200);
    },
  );

  test("towels: ends, warp and label stand on the page before the details", async () => {
    const { id } = await kept(await fresh("towels"));
    const { text } = await own.visit(`/bench/sheets/${id}`);
    for (const words of ["440", "8.17 yd", "294.0 in", "3593.33 yd", "3388.00 yd", "100% Cotton"])
      expect(text).toContain(words);
    expect(text.indexOf("8.17 yd")).toBeLessThan(text.indexOf("3593.33 yd"));
  });

  test("every preset of ours says where its length was measured, and asks for it", async () => {
    const { text } = await own.visit("/bench/sheets/new?preset=towels");
    expect(text).toContain("Is this length measured on the loom or finished?");
    expect(text).toContain("It is divided by what take-up and shrinkage leave");
  });

  test("the empty sheet names what is missing at its fields, in their order", async () => {
    const answer = await own.submit(create, await fresh("empty"));
    expect(answer.status).toBe(400);
    expect(errorLinks(answer.text)).toEqual([
      ...["name", "runs.0.name", "runs.0.length", "runs.0.wefts.0.picks"],
      ...["yarns.0.name", "sett", "width"],
    ]);
  });

  test.each<[string, Record<string, string>, string[]]>([
    ["a width in words", { width: "wide" }, ["width"]],
    ["no sett", { sett: "" }, ["sett"]],
    ["a share of everything", { takeUp: "100" }, ["takeUp"]],
    ["a share in words", { "runs.0.wefts.0.extra": "some" }, ["runs.0.wefts.0.extra"]],
    ["hours in words", { setUp: "all day" }, ["setUp"]],
    ["a price with two readings", { "yarns.0.price": "1,234" }, ["yarns.0.price"]],
    ["a number that is none", { "yarns.0.number": "8-2" }, ["yarns.0.number"]],
    ["no number for a warp yarn", { "yarns.0.number": "" }, ["yarns.0.number"]],
    ["fibres that make 90", { "yarns.0.blend.0.percent": "90" }, ["yarns.0.blend"]],
    ["a shelf without a figure", { "yarns.0.have": "lots" }, ["yarns.0.have"]],
    ["half a towel", { "runs.0.count": "0.5" }, ["runs.0.count"]],
    [
      "two stripes with the rest",
      { "warp.0.yarn": "0", "warp.1.yarn": "0" },
      ["warp.0.ends", "warp.1.ends"],
    ],
    ["a stripe of no yarn", { "warp.1.ends": "20" }, ["warp.1.yarn"]],
    ["hems longer than the piece", { "runs.0.hems": "60" }, ["runs.0.length"]],
    [
      "two weights of a rag strip",
      { "runs.0.wefts.0.weight": "5" },
      ["runs.0.wefts.0.stripWidth", "runs.0.wefts.0.clothWidth"],
    ],
  ])("%s is told at its field and everything typed stays", async (_words, wrong, fields) => {
    const typed = { ...(await fresh("towels")), name: "Kept as typed", notes: "a\nb", ...wrong };
    const before = await base.db.warpSheet.count();
    const answer = await own.submit(create, typed);
    expect(answer.status).toBe(400);
    expect(errorLinks(answer.text)).toEqual(fields);
    expect(formFields(answer.text, create)).toMatchObject(typed);
    expect(await base.db.warpSheet.count()).toBe(before);
  });

  test("a choice that no list offers is refused", async () => {
    const odd = { sampleRun: "4", setUpBy: "luck", "runs.0.measured": "", "yarns.0.system": "x" };
    const answer = await own.submit(create, { ...(await fresh("towels")), ...odd });
    expect(errorLinks(answer.text)).toEqual([
      ...["runs.0.measured", "yarns.0.system", "sampleRun", "setUpBy"],
    ]);
  });

  test("the number as it stands on the cone is read in one field", async () => {
    const cotton = await kept({
      ...(await fresh("towels")),
      "yarns.0.number": "10/2",
      "yarns.0.plies": "",
    });
    expect(cotton.sheet.yarns[0]?.number).toEqual({
      system: "cotton",
      thousandths: 10_000,
      plies: 2,
    });
    const wool = await kept({
      ...(await fresh("scarf")),
      "yarns.0.number": "2/8",
      "yarns.0.plies": "",
    });
    expect(wool.sheet.yarns[0]?.number).toEqual({
      system: "worsted",
      thousandths: 8_000,
      plies: 2,
    });
  });

  test("a typed length wins and a wide miss is told without stopping", async () => {
    const { id, sheet } = await kept({ ...(await fresh("towels")), "yarns.0.yardage": "4,200" });
    expect(sheet.yarns[0]?.yardage).toEqual({ unit: "yd/lb", thousandths: 4_200_000 });
    const { text } = await own.visit(`/bench/sheets/${id}`);
    expect(text).toContain("You typed 4200 yards in a pound; its number says 3360.");
  });
});

describe("without JavaScript", () => {
  test("one more row keeps everything, and nothing is recorded", async () => {
    const before = await base.db.warpSheet.count();
    const typed = { ...(await fresh("towels")), name: "", width: "wi de", "runs.0.name": "Blue" };
    const more = await own.submit(create, { ...typed, go: "add-run" });
    expect(more.status).toBe(200);
    const fields = formFields(more.text, create);
    expect(fields).toMatchObject({ ...typed, runRows: "2", "runs.1.count": "1" });
    expect(fields["runs.1.measured"]).toBe("loom");
    const yarn = formFields((await own.submit(create, { ...fields, go: "add-yarn" })).text, create);
    expect(yarn).toMatchObject({ ...fields, yarnRows: "2", "yarns.1.name": "" });
    const warp = formFields((await own.submit(create, { ...yarn, go: "add-warp" })).text, create);
    expect(warp).toMatchObject({ warpRows: "3", "warp.2.ends": "" });
    expect(await base.db.warpSheet.count()).toBe(before);
  });

  test("an empty row is left out and a list goes on naming the right yarn", async () => {
    const fields = {
      ...(await fresh("towels")),
      ...{ yarnRows: "3", "yarns.2.name": "Linen", "yarns.2.number": "16", "yarns.2.plies": "2" },
      ...{ "yarns.2.system": "lea", "yarns.2.blend.0.fibre": "linen", "yarns.1.system": "cotton" },
      "runs.0.wefts.0.yarn": "2",
    };
    const { sheet } = await kept(fields);
    expect(sheet.yarns.map(({ name }) => name)).toEqual(["8/2 cotton", "Linen"]);
    expect(sheet.runs[0]?.wefts[0]?.yarn).toBe(1);
    const gone = await own.submit(create, { ...fields, "yarns.2.drop": "yes" });
    expect(errorLinks(gone.text)).toEqual(["runs.0.wefts.0.yarn"]);
  });
});

describe("units", () => {
  const switched = async (path: string, fields: Record<string, string>, go: string) =>
    formFields((await own.submit(path, { ...fields, go })).text, path);

  test.each(["towels", "scarf", "placemats", "rug"])(
    "%s shown in other units and saved so are the same to the last digit",
    async (preset) => {
      const odd = { ...(await fresh(preset)), width: "21.125", "runs.0.length": "33.333" };
      const { id, sheet } = await kept(odd);
      const path = `/bench/sheets/${id}`;
      const change = formFields((await own.visit(`${path}/change?units=metric`)).text, path);
      expect(change.width).toBe("53.658");
      expect((await own.submit(path, change)).status).toBe(303);
      expect((await stored(id)).sheet).toEqual({ ...sheet, units: "metric" });
      const back = formFields((await own.visit(`${path}/change?units=inch`)).text, path);
      expect((await own.submit(path, back)).status).toBe(303);
      expect((await stored(id)).sheet).toEqual(sheet);
    },
  );

  test("switched back and forth within a form nothing moves, not even what is not kept yet", async () => {
    let fields: Record<string, string> = { ...(await fresh("rug")), width: "21.125", gap: "x" };
    const before = fields;
    for (const go of ["metric", "inch", "metric", "metric", "inch"])
      fields = await switched(create, fields, go);
    expect({ ...fields, was: "" }).toEqual({ ...before, was: "" });
    const metric = await switched(create, { ...fields, gap: "" }, "metric");
    expect((await kept(metric)).sheet.width).toEqual({ thousandths: 21_125, unit: "in" });
  });

  test("what travels with the form is taken for a figure only where it is one", async () => {
    const was = '{"width":[22000,"furlong"],"sett":["x","per-in"],"gap":[-1,"in"],"name":[1,"in"]}';
    for (const text of [was, "[", "null", '"x"', "[1]"]) {
      const { sheet } = await kept({ ...(await fresh("towels")), was: text });
      expect(sheet.width).toEqual({ thousandths: 22_000, unit: "in" });
    }
  });
});

describe("changing a kept sheet", () => {
  test("an old version is told and what was typed stays", async () => {
    const { id } = await kept(await fresh("towels"));
    const path = `/bench/sheets/${id}`;
    const fields = formFields((await own.visit(`${path}/change`)).text, path);
    expect((await own.submit(path, { ...fields, name: "First" })).status).toBe(303);
    const late = await own.submit(path, { ...fields, name: "Second" });
    expect(late.status).toBe(409);
    expect(formFields(late.text, path).name).toBe("Second");
    const row = await base.db.warpSheet.findUniqueOrThrow({ where: { id } });
    expect([row.name, row.version, row.memberId]).toEqual(["First", 2, member.id]);
  });

  test("another member's sheet is not there, on any page of it", async () => {
    const { id } = await kept(await fresh("towels"));
    const other = await signedIn(base, await buildMember(base.db, ["member", "chair", "desk"]));
    for (const part of ["", "/change", "/enter", "/entered"])
      expect((await other.visit(`/bench/sheets/${id}${part}`)).status).toBe(404);
    for (const part of ["", "/copies", "/put-away", "/put-away/undo", "/enter"])
      expect((await other.submit(`/bench/sheets/${id}${part}`, {})).status).toBe(404);
  });
});
