import type { PayoutMethod } from "../rules/statement.ts";
import type { Database } from "./client.ts";

/** How a member is paid, as typed; version 0 stands for nothing typed yet. */
export interface MemberBankRead {
  memberId: string;
  version: number;
  payee: string;
  account: string;
  bank: string;
  payMethod: PayoutMethod | null;
}

export async function findMemberBank(db: Database, memberId: string): Promise<MemberBankRead> {
  const row = await db.memberBank.findUnique({ where: { memberId } });
  if (!row) return { memberId, version: 0, payee: "", account: "", bank: "", payMethod: null };
  return { ...row, payMethod: row.payMethod as PayoutMethod | null };
}
