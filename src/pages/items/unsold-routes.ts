import { enterAgain } from "../../actions/item-lists/enter-again.ts";
import { findUnsold, listUnsold, type UnsoldPiece } from "../../database/unsold.ts";
import type { App, Reply, Request } from "../../plugins/types.ts";
import { amountText, formatMoney } from "../../rules/currency.ts";
import { piecesText } from "../../rules/item.ts";
import { lessPrice, readLess } from "../../rules/item-list/less-price.ts";
import { type Problem, refuseField } from "../../rules/problem.ts";
import { guildWords } from "../books/scene.ts";
import { isId, nextHref, searchOf } from "../want-id.ts";
import { agreedTo, shownAgain, withAgreement } from "./agreement.ts";
import { noSale, sceneWords, withoutLoose } from "./entry-routes.ts";
import { type Fields, textOf, tickedOf } from "./fields.ts";
import { type Scene, sceneOf } from "./scene.ts";
import { mostAgain, type ReadAgain, readAgain } from "./unsold-form.ts";

const mine = { config: { access: "signed-in" as const } };
/** One page is ticked at once, so it holds as many as one deed enters. */
const pageSize = mostAgain;

/** What came home from earlier sales, to be brought again under new tags. */
export async function unsoldPages(app: App): Promise<void> {
  const { db } = app.parts;

  app.get("/items/unsold", mine, async (request, reply) => {
    const scene = await ownScene(request, request.query as Fields);
    return scene ? unsoldPage(request, reply, scene) : noSale(reply);
  });

  app.get("/items/unsold/again", mine, async (request, reply) => {
    const query = request.query as Fields;
    const scene = await ownScene(request, query);
    if (!scene) return noSale(reply);
    const ids = tickedOf(query, "item").filter(isId).slice(0, mostAgain);
    const found = await findUnsold(db, placeOf(scene), ids);
    const pieces = found.filter(({ again }) => again === null);
    if (pieces.length === 0) {
      const { problem } = refuseField("item", "Tick at least one piece that you bring again.");
      return unsoldPage(request, reply, scene, problem);
    }
    const less = readLess(textOf(query, "less"));
    if (!less.ok) return unsoldPage(request, reply, scene, less.problem);
    const values = Object.fromEntries(
      pieces.flatMap(({ id, price }, row) => [
        [`rows.${row}.item`, id],
        [`rows.${row}.price`, amountText(lessPrice(price, less.value, scene.sale), scene.currency)],
      ]),
    );
    return againPage(request, reply, scene, { pieces, values });
  });

  app.post("/items/unsold/again", mine, async (request, reply) => {
    const body = request.body as Fields;
    const scene = await ownScene(request, body);
    if (!scene) return noSale(reply);
    const read = readAgain(body, scene.currency);
    const given = { saleId: scene.sale.id, items: read.items, agreementVersion: agreedTo(body) };
    const entered = read.problem
      ? { ok: false as const, problem: read.problem }
      : await enterAgain(request.deed(), given, app.now());
    if (entered.ok) {
      const count = entered.value.entered.length;
      const title = count === 1 ? "1 piece is entered again" : `${count} pieces are entered again`;
      const text = "Each has a new tag number. The old tags must come off.";
      return reply.seeOther(`/items/lists/${entered.value.listId}`, { kind: "good", title, text });
    }
    const problem = withAgreement(inRows(entered.problem, read), body, scene);
    const found = await findUnsold(db, placeOf(scene), [...read.rows.keys()]);
    const pieces = [...read.rows.keys()].flatMap((id) => found.filter((one) => one.id === id));
    if (pieces.length === 0) return unsoldPage(request, reply, scene, problem);
    const values = valuesFor(pieces, read, shownAgain(body, scene));
    return againPage(request, reply, scene, { pieces, values, problem });
  });
}

/** Everybody brings only their own pieces again. */
const ownScene = (request: Request, { member: _nobody, ...given }: Fields) =>
  sceneOf(request, given);

const placeOf = ({ memberId, sale }: Scene) => ({ memberId, saleId: sale.id });

/** The rows are drawn in the order of the pieces that are still there. */
function valuesFor(pieces: readonly UnsoldPiece[], { rows }: ReadAgain, body: Fields): Fields {
  const typed = pieces.map(({ id }, row) => [
    [`rows.${row}.item`, id],
    [`rows.${row}.price`, textOf(body, `rows.${rows.get(id)}.price`)],
  ]);
  const { agreementVersion, _key } = body;
  return { agreementVersion, _key, ...Object.fromEntries(typed.flat()) };
}

/** The action counts the pieces; the person sees rows. What is no price is told beside the piece. */
function inRows(problem: Problem, { items }: ReadAgain): Problem {
  const errors = problem.errors.map((error) => {
    const [list, index = "", column] = error.field.split(".");
    if (list !== "items" || items[Number(index)] === undefined) return error;
    const cell = column === "price" ? "price" : "item";
    return { field: `rows.${index}.${cell}`, message: error.message };
  });
  return { ...problem, errors };
}

async function unsoldPage(request: Request, reply: Reply, scene: Scene, problem?: Problem) {
  const query = request.query as Fields;
  const q = searchOf(query.q);
  const after = /^\d{8}(\d\d)?$/.exec(textOf(query, "after"))?.[0];
  const page = { ...(after ? { after } : {}), limit: pageSize };
  const { db } = request.server.parts;
  const { items, next } = await listUnsold(db, { ...placeOf(scene), q }, page);
  const guild = await guildWords(request);
  const chosen = tickedOf(query, "item");
  const data = {
    ...sceneWords(scene),
    title: "Bring unsold pieces again",
    q,
    pieces: items.map((piece) => ({
      ...pieceWords(piece, guild),
      checked: chosen.includes(piece.id),
    })),
    ticked: items.some(({ again }) => again === null),
    nextHref: nextHref("/items/unsold", next, { sale: scene.sale.id, q }),
    values: { less: textOf(query, "less") },
    problem,
    closedText: problem ? undefined : scene.closed?.detail,
  };
  return reply.page("items/unsold", data, problem?.status ?? 200);
}

function pieceWords(piece: UnsoldPiece, guild: { currency: string; locale: string }) {
  const { id, shownTag, saleName, description, kindName, colours, size, again } = piece;
  return {
    ...{ id, shownTag, saleName, description },
    more: [kindName, colours, size].filter(Boolean).join(", "),
    pieces: piecesText(piece.atHome, piece.piecesInSet) || "1 piece",
    price: formatMoney(piece.price, guild.currency, guild.locale),
    again: again && { href: `/items/${again.id}`, shownTag: again.shownTag },
  };
}

async function againPage(
  request: Request,
  reply: Reply,
  scene: Scene,
  shown: { pieces: readonly UnsoldPiece[]; values: Fields; problem?: Problem },
) {
  const { pieces, values, problem } = shown;
  const guild = await guildWords(request);
  const count = pieces.length;
  const data = {
    ...sceneWords(scene),
    title: "Enter these again",
    rows: pieces.map((piece, row) => ({
      ...pieceWords(piece, guild),
      name: `rows.${row}`,
      copyHref: `/items/new?copy=${piece.id}&sale=${scene.sale.id}`,
    })),
    label: count === 1 ? "Enter this piece again" : `Enter these ${count} pieces again`,
    backHref: `/items/unsold?sale=${scene.sale.id}`,
    values,
    problem: problem && withoutLoose(problem),
    closedText: problem ? undefined : scene.closed?.detail,
  };
  return reply.page("items/unsold-again", data, problem?.status ?? 200);
}
