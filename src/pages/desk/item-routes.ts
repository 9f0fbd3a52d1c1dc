import { checkInItem } from "../../actions/check-in-item.ts";
import { pickUpItem } from "../../actions/pick-up-item.ts";
import { reasonShape } from "../../contract/desk.ts";
import type { ShownItem } from "../../database/items.ts";
import { findLabel } from "../../database/labels.ts";
import { photosOf } from "../../database/photos.ts";
import { findSale, type SaleRead } from "../../database/sales.ts";
import { notFound } from "../../plugins/errors.ts";
import { itemByTag } from "../../plugins/seen-items.ts";
import type { App, Reply, Request } from "../../plugins/types.ts";
import type { Outcome } from "../../rules/labels/cautions/caution.ts";
import { questionsFor } from "../../rules/labels/cautions/cautions.ts";
import { ok, type Problem, type Result, refuseField } from "../../rules/problem.ts";
import { allows } from "../../rules/sale-stage.ts";
import { type Fields, textOf } from "../items/fields.ts";
import { badgeOf, factsOf } from "../items/words.ts";
import { notesOn } from "./result.ts";

type WithTag = { Params: { tag: string } };
const helps = { config: { access: ["desk", "chair"] as const } };
const deeds = ["take-in", "turn-away", "hand-back"] as const;
type DeskDeed = (typeof deeds)[number];

/** One piece in the hand of the helper: look at it, then decide. */
export async function deskItemPages(app: App): Promise<void> {
  app.get<WithTag>("/desk/items/:tag", helps, async (request, reply) =>
    itemPage(request, reply, await itemByTag(app.parts.db, request.params.tag)),
  );

  app.post<WithTag>("/desk/items/:tag", helps, async (request, reply) => {
    const item = await itemByTag(app.parts.db, request.params.tag);
    const body = request.body as Fields;
    const done = await decide(request, item, body);
    if (!done.ok) return itemPage(request, reply, item, body, done.problem);
    return reply.seeOther(`/desk?sale=${item.saleId}`, {
      kind: "good",
      title: `${done.value}: ${item.shownTag}`,
      text: item.description,
    });
  });
}

const outcomeWords: Record<Outcome, { kind: string; title: string } | undefined> = {
  fine: undefined,
  look: { kind: "info", title: "Look at this" },
  hold: { kind: "warn", title: "Hold it until this is settled" },
  refuse: { kind: "bad", title: "Do not take it in" },
};

const doneWords: Record<DeskDeed, string> = {
  "take-in": "Taken in",
  "turn-away": "Turned away",
  "hand-back": "Handed back to the member",
};

/** A piece may come in and another of the same tag go back, so each form has fields of its own. */
const fieldsOf = (deed: DeskDeed) =>
  deed === "hand-back"
    ? { quantity: "backQuantity", reason: "backReason" }
    : { quantity: "quantity", reason: "reason" };

async function decide(request: Request, item: ShownItem, body: Fields): Promise<Result<string>> {
  const wanted = deeds.find((one) => one === textOf(body, "deed"));
  if (!wanted) return refuseField("deed", "Choose what to do with the piece.");
  const names = fieldsOf(wanted);
  const reason = reasonShape.safeParse(textOf(body, names.reason));
  if (!reason.success)
    return refuseField(names.reason, reason.error.issues[0]?.message ?? "Use other words.");
  const typed = textOf(body, names.quantity);
  if (!/^\d{0,6}$/.test(typed))
    return refuseField(names.quantity, "Type a whole number of pieces.");
  const done = await act(request, wanted, {
    ...{ saleId: item.saleId, tag: item.tag, reason: reason.data },
    ...(typed === "" ? {} : { quantity: Number(typed) }),
  });
  if (done.ok) return ok(doneWords[wanted]);
  const errors = done.problem.errors.map(({ field, message }) => ({
    field: field === "quantity" || field === "reason" ? names[field] : field,
    message,
  }));
  return { ok: false, problem: { ...done.problem, errors } };
}

function act(
  request: Request,
  wanted: DeskDeed,
  given: { saleId: string; tag: string; reason: string; quantity?: number },
): Promise<Result<object>> {
  const deed = request.deed();
  if (wanted === "hand-back") return pickUpItem(deed, given);
  const decision = wanted === "take-in" ? "accepted" : "turned-away";
  // The page shows the cautions above the button, so whoever presses it has looked.
  return checkInItem(deed, { ...given, decision, looked: true });
}

async function itemPage(
  request: Request,
  reply: Reply,
  item: ShownItem,
  values: Fields = {},
  problem?: Problem,
) {
  const { db } = request.server.parts;
  const guild = await db.guild.findFirstOrThrow();
  const sale = await findSale(db, item.saleId);
  if (!sale) throw notFound("this piece");
  const member = await db.member.findUniqueOrThrow({ where: { id: item.memberId } });
  const data = {
    title: `${item.shownTag} ${item.description}`,
    ...{ item, values, problem, ...possible(item, sale), saleName: sale.name },
    badge: badgeOf(item),
    notes: await notesOn(db, item),
    photos: await photosOf(db, request.who(), item.id),
    outcome: outcomeWords[(await findLabel(db, item.id)).caution.outcome],
    tagsHref: `/tags?item=${item.id}`,
    answersHref:
      questionsFor(item.labelKind).length > 0 ? `/items/${item.id}/questions` : undefined,
    facts: factsOf(item, guild).filter(({ label }) => label !== "Member"),
    memberName: `${member.number} ${member.name}`,
    memberHref: `/desk/members/${member.number}?sale=${sale.id}`,
    action: `/desk/items/${item.tag}`,
  };
  return reply.page("desk/item", data, problem?.status ?? 200);
}

const possible = ({ pieces, state }: ShownItem, { stage }: SaleRead) => {
  const comes = allows(stage, "check-in") && state !== "withdrawn" && pieces.withMember > 0;
  return {
    mayTakeIn: comes,
    mayTurnAway: comes && state !== "turned-away",
    mayGiveBack: allows(stage, "give-back") && pieces.onFloor > 0,
    mayPickUp: allows(stage, "pick-up") && pieces.onFloor > 0,
    manyToCome: pieces.withMember > 1,
    manyOnFloor: pieces.onFloor > 1,
  };
};
