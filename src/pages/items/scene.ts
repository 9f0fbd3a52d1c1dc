import { entriesAllowed } from "../../actions/entry-rules.ts";
import { settingFor } from "../../database/labels.ts";
import { ownRateOf } from "../../database/own-rate.ts";
import { entrySale } from "../../database/sale-choice.ts";
import { findSale, type SaleRead } from "../../database/sales.ts";
import { notFound, orRefuse } from "../../plugins/errors.ts";
import { memberIdFor } from "../../plugins/seen-items.ts";
import type { Request } from "../../plugins/types.ts";
import { amountText } from "../../rules/currency.ts";
import { fibreList } from "../../rules/fibre.ts";
import type { Problem } from "../../rules/problem.ts";
import { refuseField } from "../../rules/problem.ts";
import { guildWords } from "../books/scene.ts";
import { keepsView } from "../policy/keeps.ts";
import { isId } from "../want-id.ts";
import { type Fields, textOf } from "./fields.ts";
import { labelLists } from "./label-lists.ts";

/** Where an entry goes: the sale, the member, and what that member has yet to agree to. */
export interface Scene {
  sale: SaleRead;
  currency: string;
  /** The member's number, when a helper enters for somebody else. */
  memberNumber: number | undefined;
  memberId: string;
  agreement: { version: number; text: string } | null;
  /** What the guild keeps, and the member's own percentage as it stands. */
  keeps: ReturnType<typeof keepsView>;
  /** Why nothing can be entered now, or null. */
  closed: Problem | null;
}

/** Reads `sale` and `member` from a query or a form; without them, one's own entry for now. */
export async function sceneOf(request: Request, given: Fields): Promise<Scene | null> {
  const { db } = request.server.parts;
  const actor = request.who();
  const sale = await chosenSale(request, textOf(given, "sale"));
  if (!sale) return null;
  const guild = await guildWords(request);
  const number = numberOf(textOf(given, "member"));
  const memberId = await memberIdFor(db, actor, number);
  const allowed = entriesAllowed(sale, actor, request.server.now());
  return {
    ...{ sale, memberId, currency: guild.currency },
    memberNumber: memberId === actor.id ? undefined : number,
    agreement: await toAgree(request, sale, memberId),
    keeps: keepsView(await ownRateOf(db, sale.id, memberId), guild),
    closed: allowed.ok ? null : allowed.problem,
  };
}

export async function chosenSale(request: Request, id: string): Promise<SaleRead | null> {
  const { db } = request.server.parts;
  if (id === "") return entrySale(db);
  const sale = isId(id) ? await findSale(db, id) : null;
  if (!sale) throw notFound("this sale");
  return sale;
}

function numberOf(text: string): number | undefined {
  if (text === "") return undefined;
  return /^\d{1,4}$/.test(text)
    ? Number(text)
    : orRefuse(refuseField("memberNumber", "Type a member's number, for example 104."));
}

async function toAgree(request: Request, sale: SaleRead, memberId: string) {
  const { db } = request.server.parts;
  const wording = { saleId: sale.id, version: sale.agreementVersion };
  const agreement = await db.agreement.findUnique({ where: { saleId_version: wording } });
  if (!agreement) return null;
  const row = { ...wording, memberId };
  const accepted = await db.acceptance.findUnique({ where: { saleId_version_memberId: row } });
  return accepted ? null : { version: agreement.version, text: agreement.text };
}

/** The lists of a form, and what the sale's prices must fit. */
export async function formLists(
  request: Request,
  scene: Scene,
  shown: { values: object; problem?: Problem | undefined },
  keepKind?: string,
) {
  const setting = await settingFor(request.server.parts.db, scene.memberId);
  const kinds = await request.server.parts.db.kind.findMany({ orderBy: { position: "asc" } });
  const { priceFloor, priceStep } = scene.sale;
  const words = (amount: number) => amountText(amount, scene.currency);
  return {
    kinds: kinds
      .filter(({ active, code }) => active || code === keepKind)
      .map(({ code, name }) => ({ value: code, label: name })),
    fibreList: fibreList.map(({ code, name }) => ({ value: code, label: name })),
    labelForm: labelLists(setting.pack, shown.values as Fields, shown.problem),
    moreOpen: isSaidMore(shown.values as Fields, shown.problem),
    priceHint: `${words(priceFloor)} or more, in steps of ${words(priceStep)}.`,
  };
}

/** What few pieces need is folded away, unless it says something or is at fault. */
function isSaidMore(values: Fields, problem: Problem | undefined): boolean {
  const fields = ["technique", "piecesInSet", "donated"];
  const said = fields.some((name) => !["", "1"].includes(textOf(values, name)));
  return said || (problem?.errors ?? []).some(({ field }) => fields.includes(field));
}
