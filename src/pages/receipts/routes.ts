import { hindrance } from "../../actions/void-receipt.ts";
import { listReceipts } from "../../database/receipt-list.ts";
import { gatherReceipt } from "../../database/receipt-paper.ts";
import type { ReceiptRead } from "../../database/receipts.ts";
import { notFound } from "../../plugins/errors.ts";
import type { App, Request } from "../../plugins/types.ts";
import { printReceipt } from "../../printing/receipt.ts";
import { formatMoney } from "../../rules/currency.ts";
import { hasAny, type Role } from "../../rules/roles.ts";
import { whenText } from "../format.ts";
import { tillOf, wayBack } from "../till/routes.ts";
import { nextHref, searchOf, wantId } from "../want-id.ts";

interface WithTill {
  Params: { tillId: string };
  Querystring: { q?: string; after?: string };
}
type WithReceipt = { Params: { id: string } };

const kinds = {
  sale: { text: "Sale", kind: "plain", icon: "basket" },
  return: { text: "Return", kind: "wait", icon: "back" },
  void: { text: "Call-off", kind: "bad", icon: "cross" },
} as const;
const calledOff = { ...kinds.void, text: "Called off" };

/** Receipts: of one till, one on the screen, one on paper. */
export async function receiptPages(app: App): Promise<void> {
  const reads = { config: { access: ["cashier", "treasurer", "chair"] as const } };

  app.get<WithTill>("/till/:tillId/receipts", reads, async (request, reply) => {
    const till = await tillOf(request);
    const guild = await app.parts.db.guild.findFirstOrThrow();
    const q = searchOf(request.query.q);
    // A tag may have been sold at another till; a search looks at the whole sale.
    const scope = { saleId: till.sale.id, ...(q === "" ? { tillId: till.id } : { q }) };
    const after = typeof request.query.after === "string" ? request.query.after : undefined;
    const page = await listReceipts(app.parts.db, scope, { after, limit: 50 });
    const path = `/till/${till.id}/receipts`;
    return reply.page("receipts/list", {
      title: `Receipts of till ${till.number}`,
      sale: till.sale.name,
      way: wayBack(request as Request, till),
      path,
      q,
      receipts: page.items.map((receipt) => ({
        href: `/receipts/${receipt.id}`,
        name: receipt.name,
        badge: receipt.calledOff ? calledOff : kinds[receipt.kind],
        at: whenText(receipt.at, guild),
        cashier: receipt.cashier,
        pieces: String(receipt.pieces),
        total: formatMoney(receipt.total, guild.currency, guild.locale),
      })),
      nextHref: nextHref(path, page.next, { q }),
    });
  });

  app.get<WithReceipt>("/receipts/:id", reads, async (request, reply) => {
    const found = await gatherReceipt(app.parts.db, wantId(request.params.id, "this receipt"));
    if (!found) throw notFound("this receipt");
    const { receipt, paper } = found;
    return reply.page("receipts/receipt", {
      title: `Receipt ${receipt.name}`,
      kind: receipt.kind,
      badge: isCalledOff(receipt) ? calledOff : kinds[receipt.kind],
      paper,
      reason: receipt.reason,
      others: others(receipt),
      returned: receipt.lines.some(({ returned }) => returned > 0),
      listHref: `/till/${receipt.tillId}/receipts`,
      pdfHref: `/receipts/${receipt.id}/pdf?copy=yes`,
      ...deeds(receipt, request.who().roles),
    });
  });

  app.get<WithReceipt>("/receipts/:id/pdf", reads, async (request, reply) => {
    const id = wantId(request.params.id, "this receipt");
    const found = await gatherReceipt(app.parts.db, id, isCopy(request.query));
    if (!found) throw notFound("this receipt");
    const bytes = await printReceipt(found.paper, found);
    return reply
      .type("application/pdf")
      .header("content-disposition", `inline; filename="receipt-${found.receipt.name}.pdf"`)
      .send(Buffer.from(bytes));
  });
}

/** The till prints a receipt first; whoever finds it in a list later prints a copy. */
const isCopy = (query: unknown): boolean => (query as { copy?: unknown }).copy === "yes";

const isCalledOff = ({ reversedBy }: ReceiptRead): boolean =>
  reversedBy.some(({ kind }) => kind === "void");

const others = ({ reverses, reversedBy }: ReceiptRead) => [
  ...(reverses
    ? [{ text: "It takes back", name: reverses.name, href: `/receipts/${reverses.id}` }]
    : []),
  ...reversedBy.map(({ id, name, kind }) => ({
    text: kind === "void" ? "It was called off with" : "Pieces came back with",
    name,
    href: `/receipts/${id}`,
  })),
];

/** What this person may still do with the receipt. */
function deeds(receipt: ReceiptRead, roles: readonly Role[]) {
  if (!hasAny(roles, ["cashier", "chair"])) return {};
  const tillHref = `/till/${receipt.tillId}`;
  if (receipt.kind !== "sale") return { tillHref };
  const left = receipt.lines.some(({ quantity, returned }) => returned < quantity);
  return {
    tillHref,
    ...(hindrance(receipt) ? {} : { voidHref: `/receipts/${receipt.id}/void` }),
    ...(isCalledOff(receipt) || !left ? {} : { returnHref: `/receipts/${receipt.id}/return` }),
  };
}
