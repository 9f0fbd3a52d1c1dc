import { checkInItem } from "../../actions/check-in-item.ts";
import { pickUpItem } from "../../actions/pick-up-item.ts";
import { deskProgress } from "../../database/desk.ts";
import { findItem } from "../../database/items.ts";
import type { SaleRead } from "../../database/sales.ts";
import { itemByTag } from "../../plugins/seen-items.ts";
import type { App, Reply, Request } from "../../plugins/types.ts";
import { type Problem, problem } from "../../rules/problem.ts";
import { type Fields, textOf } from "../items/fields.ts";
import { closedText, modeOf, saleAtDesk } from "./place.ts";
import { type DeskResult, doneResult, refusedResult } from "./result.ts";

const helps = { config: { access: ["desk", "chair"] as const } };

/** The field into which everything is scanned or typed, and what came of the last one. */
export async function scanPages(app: App): Promise<void> {
  app.get("/desk", helps, async (request, reply) => {
    const sale = await saleAtDesk(request, request.query as Fields);
    return sale ? scanPage(request, reply, sale) : noSale(reply);
  });

  app.post("/desk/scan", helps, async (request, reply) => {
    const body = request.body as Fields;
    const sale = await saleAtDesk(request, body);
    if (!sale) return noSale(reply);
    const code = textOf(body, "code");
    // Three or four digits are no tag: they are the number of the member who stands there.
    if (/^\d{3,4}$/.test(code)) return listOf(request, reply, sale, code);
    if (textOf(body, "go") === "look" || modeOf(sale) === "closed") {
      const item = await itemByTag(app.parts.db, code).catch((error) => refusalOf(error));
      if ("shownTag" in item) return reply.seeOther(`/desk/items/${item.tag}`);
      return scanPage(request, reply, sale, await refusedResult(request, item, code));
    }
    return scanPage(request, reply, sale, await scan(request, sale, code));
  });
}

async function listOf(request: Request, reply: Reply, sale: SaleRead, code: string) {
  const member = await request.server.parts.db.member.findUnique({
    where: { number: Number(code) },
  });
  if (member) return reply.seeOther(`/desk/members/${code}?sale=${sale.id}`);
  const detail = `Nobody in the guild has the number ${code}. Type it again, or look for the name in the members' lists.`;
  const unknown = problem("not-found", detail);
  return scanPage(request, reply, sale, await refusedResult(request, unknown, code));
}

/** A scan does what this stage is for: it takes all of an item in, or hands all of it back. */
async function scan(request: Request, sale: SaleRead, tag: string): Promise<DeskResult> {
  const deed = request.deed();
  const taking = modeOf(sale) === "check-in";
  const done = taking
    ? await checkInItem(deed, { saleId: sale.id, tag, decision: "accepted", reason: "" })
    : await pickUpItem(deed, { saleId: sale.id, tag, reason: "" });
  if (!done.ok) return refusedResult(request, done.problem, tag);
  const item = await findItem(request.server.parts.db, done.value.itemId);
  if (!item) throw new Error(`The item ${done.value.itemId} was moved and cannot be read.`);
  return doneResult(request, item, done.value.quantity, taking);
}

function refusalOf(error: unknown): Problem {
  if (typeof error === "object" && error !== null && "problem" in error)
    return error.problem as Problem;
  throw error;
}

const noSale = (reply: Reply) => reply.page("desk/no-sale", { title: "Desk" });

async function scanPage(request: Request, reply: Reply, sale: SaleRead, result?: DeskResult) {
  const { db } = request.server.parts;
  const mode = modeOf(sale);
  const progress = await deskProgress(db, sale.id, null);
  const data = {
    title: result ? [result.word, result.shownTag].filter(Boolean).join(": ") : "Desk",
    ...{ saleId: sale.id, saleName: sale.name, result, progress },
    takesIn: mode === "check-in",
    handsBack: mode === "pick-up",
    closedText: mode === "closed" ? closedText(sale) : undefined,
    came: progress.entered - progress.toCome,
    membersHref: `/desk/members?sale=${sale.id}`,
  };
  return reply.page("desk/scan", data, result?.status ?? 200);
}
