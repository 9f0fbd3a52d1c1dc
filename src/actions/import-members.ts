import type { ListPreview, ListRow } from "../contract/member.ts";
import type { Database, Transaction } from "../database/client.ts";
import { type Deed, perform } from "../database/perform.ts";
import { ok, problem, type Result, refuseField } from "../rules/problem.ts";
import type { Role } from "../rules/roles.ts";
import { nextMemberNumbers } from "./guild-lock.ts";
import { readMemberList } from "./read-member-list.ts";

/** Reads a list and marks each row that cannot be added, without adding anything. */
export async function previewMembers(
  db: Database | Transaction,
  text: string,
): Promise<Result<ListPreview>> {
  const list = readMemberList(text);
  if (!list.ok) return list;
  const { rows, ignored } = list.value;
  const marked = markTwins(rows, await holdersOf(db, rows));
  const good = marked.filter((row) => row.problems.length === 0).length;
  return ok({ rows: marked, good, bad: marked.length - good, ignored });
}

/** Who has an e-mail of the list already. */
async function holdersOf(db: Database | Transaction, rows: ListRow[]) {
  const emails = [...new Set(rows.map((row) => row.email).filter((email) => email !== ""))];
  const holders = await db.member.findMany({
    where: { email: { in: emails } },
    select: { email: true, number: true },
  });
  return new Map(holders.map(({ email, number }) => [email, number]));
}

/** One e-mail is one account: the second row with it, or a member who has it, is named. */
function markTwins(rows: ListRow[], holders: Map<string | null, number>): ListRow[] {
  const firstLine = new Map<string, number>();
  return rows.map((row) => {
    if (row.email === "") return row;
    const problems = [...row.problems];
    const holder = holders.get(row.email);
    if (holder !== undefined) problems.push(`Member ${holder} has this e-mail already`);
    const earlier = firstLine.get(row.email);
    if (earlier !== undefined) problems.push(`Line ${earlier} has the same e-mail`);
    else firstLine.set(row.email, row.line);
    return { ...row, problems };
  });
}

export interface Imported {
  added: { line: number; number: number }[];
  skipped: number;
}

/** Adds the good rows of a list, all of them or none, under numbers in the order of the list. */
export const importMembers = (deed: Deed, text: string): Promise<Result<Imported>> =>
  perform(
    deed,
    "import-members",
    { text },
    async (tx) => {
      const preview = await previewMembers(tx, text);
      if (!preview.ok) return preview;
      const good = preview.value.rows.filter((row) => row.problems.length === 0);
      if (good.length === 0)
        return refuseField("text", "No row of this list can be added. Nobody was added.");
      const numbers = await nextMemberNumbers(tx, good.length);
      if (!numbers.ok) return numbers;
      const { first } = numbers.value;
      await tx.member.createMany({ data: good.map((row, index) => rowOf(row, first + index)) });
      const added = good.map(({ line }, index) => ({ line, number: first + index }));
      const value = { added, skipped: preview.value.bad };
      const detail = { added: added.length, skipped: value.skipped, firstNumber: first };
      return ok({ value, subjectId: deed.actor.id, detail });
    },
    {
      member_email_key: () =>
        problem(
          "changed-meanwhile",
          "Somebody else added one of these members just now. Nobody was added by you; look at the list once more.",
        ),
    },
  );

const rowOf = ({ name, email, phone, roles }: ListRow, number: number) => ({
  number,
  name,
  email: email || null,
  phone,
  roles: roles as Role[],
});
