import { editMemberBank } from "../../src/actions/edit-member-bank.ts";
import { prepareRun } from "../../src/actions/prepare-run.ts";
import type { MemberBankInput } from "../../src/contract/paying.ts";
import type { Database } from "../../src/database/client.ts";
import type { PayoutMethod } from "../../src/rules/statement.ts";
import { deedOf } from "./build.ts";
import { buildSettling, done, settleNow } from "./build-settlement.ts";

/** A settled sale with two members to pay: 67.98 and 26.66. */
export async function buildOwed(db: Database) {
  const hall = await buildSettling(db);
  const { settlementId } = await settleNow(db, hall);
  const of = async (memberId: string) =>
    (await db.statement.findFirstOrThrow({ where: { settlementId, memberId } })).id;
  return { ...hall, mine: await of(hall.weaver.id), theirs: await of(hall.other.id) };
}

export type Owed = Awaited<ReturnType<typeof buildOwed>>;

/** Published example numbers (register of ISO 13616); both have the right check digits. */
export const ibans = { german: "DE89370400440532013000", french: "FR1420041010050500013M02606" };

export const typeBank = async (
  db: Database,
  member: Parameters<typeof deedOf>[1],
  more: Partial<MemberBankInput> = {},
) => {
  const typed = { version: 0, payee: "", account: "", bank: "", payMethod: null, ...more };
  return done(await editMemberBank(deedOf(db, member), member.id, typed));
};

/** Prepares both statements, as the treasurer who ticked everybody. */
export const prepareBoth = (
  db: Database,
  { mine, theirs, treasurer }: Owed,
  method: PayoutMethod = "cheque",
  more: { key?: string; statementIds?: string[]; firstCheque?: string; day?: string } = {},
) => {
  const { key, ...over } = more;
  return prepareRun(deedOf(db, treasurer, key), {
    method,
    saleId: null,
    statementIds: [mine, theirs],
    day: "2026-12-05",
    firstCheque: method === "cheque" ? "0099" : "",
    ...over,
  });
};
