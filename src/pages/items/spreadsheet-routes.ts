import multipart from "@fastify/multipart";
import { type EnterList, enterItemList } from "../../actions/item-lists/enter-item-list.ts";
import { type ListLook, lookAtList } from "../../actions/item-lists/look-at-list.ts";
import { enterListShape, listTextShape } from "../../contract/item-list.ts";
import type { App, Reply, Request } from "../../plugins/types.ts";
import { fibreList } from "../../rules/fibre.ts";
import { mostListRows } from "../../rules/item-list/columns.ts";
import { ok, type Problem, type Result } from "../../rules/problem.ts";
import { sendCsv } from "../figures/send-csv.ts";
import { listText } from "../list-text.ts";
import { readForm } from "../read-form.ts";
import { agreedTo, shownAgain, withAgreement } from "./agreement.ts";
import { noSale, placeQuery, sceneWords, withoutLoose } from "./entry-routes.ts";
import { type Fields, textOf, ticked } from "./fields.ts";
import { type Scene, sceneOf } from "./scene.ts";
import { columnHelp, enterLabel, lookedRow, rowsToMend, starterRows } from "./spreadsheet-words.ts";

const mine = { config: { access: "signed-in" as const } };

/** 300 full rows are far smaller. What comes in parts is held in memory, so it has to be little. */
const limits = { fileSize: 1_000_000, files: 1, fields: 10, fieldSize: 900_000, parts: 12 };

/** Pieces from a spreadsheet: first a look at every row, then the good ones are entered. */
export async function spreadsheetPages(app: App): Promise<void> {
  await app.register(multipart, { attachFieldsToBody: "keyValues", limits });

  app.get("/items/spreadsheet", mine, async (request, reply) => {
    const scene = await sceneOf(request, request.query as Fields);
    return scene ? startPage(request, reply, scene, {}) : noSale(reply);
  });

  app.get("/items/spreadsheet/starter.csv", mine, async (request, reply) => {
    const scene = await sceneOf(request, request.query as Fields);
    if (!scene) return noSale(reply);
    const kinds = await activeKinds(request);
    const { priceStep, priceFloor } = scene.sale;
    const rows = starterRows({ currency: scene.currency, kinds, priceStep, priceFloor });
    return sendCsv(reply, "my-pieces.csv", rows);
  });

  app.post("/items/spreadsheet", mine, async (request, reply) => {
    const body = request.body as Fields;
    const scene = await sceneOf(request, body);
    if (!scene) return noSale(reply);
    const text = listText(body.file) || wholeText(body);
    const look = await lookAt(request, scene, text);
    return look.ok
      ? lookPage(reply, scene, { look: look.value, values: { text } })
      : startPage(request, reply, scene, { text }, look.problem);
  });

  app.post("/items/spreadsheet/mend", mine, async (request, reply) => {
    const body = request.body as Fields;
    const scene = await sceneOf(request, body);
    if (!scene) return noSale(reply);
    const text = wholeText(body);
    const look = await lookAt(request, scene, text);
    return look.ok
      ? sendCsv(reply, "rows-to-mend.csv", rowsToMend(look.value))
      : startPage(request, reply, scene, { text }, look.problem);
  });

  app.post("/items/spreadsheet/enter", mine, async (request, reply) => {
    const body = request.body as Fields;
    const scene = await sceneOf(request, body);
    if (!scene) return noSale(reply);
    const text = wholeText(body);
    const given = givenOf(scene, body, text);
    const entered = given.ok ? await enterItemList(request.deed(), given.value, app.now()) : given;
    if (entered.ok) {
      const { listId, entered: pieces } = entered.value;
      const title = pieces.length === 1 ? "1 piece entered" : `${pieces.length} pieces entered`;
      const notice = { kind: "good" as const, title, text: "Each has its tag number below." };
      return reply.seeOther(`/items/lists/${listId}`, notice);
    }
    const problem = withAgreement(entered.problem, body, scene);
    const look = await lookAt(request, scene, text);
    if (!look.ok) return startPage(request, reply, scene, { text }, look.problem);
    const values = { ...shownAgain(body, scene), text };
    return lookPage(reply, scene, { look: look.value, values, problem });
  });
}

async function lookAt(request: Request, scene: Scene, text: string): Promise<Result<ListLook>> {
  const read = readForm(listTextShape, { text });
  if (!read.ok) return read;
  const { sale, memberId } = scene;
  const place = { sale, memberId, text: read.value.text, twins: "leave" as const };
  return lookAtList(request.server.parts.db, place);
}

const activeKinds = (request: Request) =>
  request.server.parts.db.kind.findMany({
    where: { active: true },
    orderBy: { position: "asc" },
    select: { code: true, name: true },
  });

/** As it was sent: trimming would take the empty cells off a pasted list. */
const wholeText = ({ text }: Fields): string => (typeof text === "string" ? text : "");

/** The page counts the good rows; with the look-alikes among them it cannot know the number. */
function givenOf(scene: Scene, body: Fields, text: string): Result<EnterList> {
  const twins = ticked(body, "twins") ? "enter" : "leave";
  const expected = /^\d{1,3}$/.exec(textOf(body, "expected"))?.[0];
  const counted = twins === "leave" && expected !== undefined ? Number(expected) : undefined;
  const agreementVersion = agreedTo(body);
  const read = readForm(enterListShape, {
    ...{ text, twins, agreementVersion },
    ...(counted === undefined ? {} : { expected: counted }),
  });
  if (!read.ok) return read;
  const { memberNumber: _same, ...given } = read.value;
  return ok({ ...given, saleId: scene.sale.id, memberId: scene.memberId });
}

async function startPage(
  request: Request,
  reply: Reply,
  scene: Scene,
  values: { text?: string },
  problem?: Problem,
) {
  const data = {
    ...sceneWords(scene),
    title: "Enter from a spreadsheet",
    columns: columnHelp,
    kinds: (await activeKinds(request)).map(({ name }) => name).join(", "),
    fibres: fibreList.map(({ name }) => name).join(" · "),
    mostRows: mostListRows,
    starterHref: `/items/spreadsheet/starter.csv?${placeQuery(scene)}`,
    values,
    problem,
    closedText: problem ? undefined : scene.closed?.detail,
  };
  return reply.page("items/spreadsheet", data, problem?.status ?? 200);
}

interface LookPage {
  look: ListLook;
  values: Fields;
  problem?: Problem;
}

function lookPage(reply: Reply, scene: Scene, { look, values, problem }: LookPage) {
  const { rows, good, faulty, twins, ignored } = look;
  const mayEnter = good > 0 || twins > 0;
  const data = {
    ...sceneWords(scene),
    title: "Look at the list",
    ...{ good, faulty, twins, mayEnter },
    ignored: ignored.join(", "),
    enterLabel: good > 0 ? enterLabel(good) : "Enter the ticked rows",
    twinWords:
      twins === 1
        ? "Also enter the row that looks like a piece you have entered"
        : `Also enter the ${twins} rows that look like pieces you have entered`,
    toMend: rows.filter(({ faults }) => faults.length > 0).map(lookedRow),
    alike: rows.filter(({ twin }) => twin).map(lookedRow),
    toEnter: rows.filter(({ faults, twin }) => faults.length === 0 && !twin).map(lookedRow),
    againHref: `/items/spreadsheet?${placeQuery(scene)}`,
    values,
    problem: problem && withoutLoose(problem),
    closedText: scene.closed?.detail,
  };
  return reply.page("items/spreadsheet-look", data, problem?.status ?? 200);
}
