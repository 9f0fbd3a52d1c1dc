import { type OpenPayable, type Payables, payablesOf } from "../../database/figures/payables.ts";
import { onOneSnapshot } from "../../database/figures/snapshot.ts";
import type { App, Request } from "../../plugins/types.ts";
import { type AgeBucket, agePayables } from "../../rules/paying/unclaimed.ts";
import { books, type GuildWords, guildWords, numberAfter, places } from "../books/scene.ts";
import { whenText } from "../format.ts";
import { searchOf } from "../want-id.ts";
import { agreement } from "./agreement.ts";

type Asked = Partial<Record<"q" | "age" | "after", string>>;

const path = "/books/payables";
const atOnce = 50;

/** What the guild owes its members, by how long it has waited. */
export async function payablePages(app: App): Promise<void> {
  app.get<{ Querystring: Asked }>(path, books, async (request, reply) =>
    reply.page("figures/payables", await page(request as Request)),
  );
}

async function page(request: Request) {
  const { parts, now } = request.server;
  const guild = await guildWords(request);
  const found = await onOneSnapshot(parts.db, payablesOf);
  const ages = agePayables(found.payables, now().toISOString(), guild.timeZone);
  const asked = request.query as Asked;
  const q = searchOf(asked.q);
  const age = ages.find(({ from }) => String(from) === asked.age);
  const listed = (
    age ? age.payables : ages.toReversed().flatMap(({ payables }) => payables)
  ).filter((one) => fits(one, q));
  const start = numberAfter(asked.after);
  const kept = { ...(age ? { age: String(age.from) } : {}), ...(q ? { q } : {}) };
  return {
    ...{ title: "Owed to members", path, q, places: places(path), age: age && String(age.from) },
    ...heading(found, ages, guild),
    only: age && spanWords(age),
    rows: listed.slice(start, start + atOnce).map((one) => row(one, guild)),
    next:
      listed.length > start + atOnce &&
      `${path}?${new URLSearchParams({ ...kept, after: String(start + atOnce) })}`,
  };
}

function heading(found: Payables, ages: readonly AgeBucket<OpenPayable>[], guild: GuildWords) {
  const { money } = guild;
  const owed = ages.reduce((sum, { total }) => sum + total, 0);
  const owing = found.owing.reduce((sum, { amount }) => sum + amount, 0);
  const bars = ages.map((age) => ({
    ...{ label: spanWords(age), value: age.total, shown: money(age.total) },
    href: `${path}?age=${age.from}`,
  }));
  const onAccounts = owed - owing + found.notSettled;
  return {
    isEmpty: found.payables.length + found.owing.length === 0,
    agreement: agreement(
      found.agrees,
      `Members' accounts hold ${money(onAccounts)}`,
      money(found.booked),
    ),
    chart: {
      ...{ id: "ages", title: "Owed to members by age", bars },
      description: "The same figures stand in the table beside it. Each bar leads to its rows.",
    },
    ages: bars.map(({ label, shown, href }) => ({ label, amount: shown, href })),
    total: money(owed),
    ties: [
      { label: "Owed to members, as listed here", value: money(owed) },
      { label: "Owed by members to the guild", value: money(0 - owing) },
      {
        label: "Sold or adjusted and not settled yet, the guild's share still in it",
        value: money(found.notSettled),
      },
      { label: "Together, and so on the members' accounts", value: money(onAccounts) },
    ],
    owing: found.owing.map((one) => ({ ...row(one, guild) })),
  };
}

const fits = ({ memberName, memberNumber }: OpenPayable, q: string): boolean =>
  q === "" || String(memberNumber) === q || memberName.toLowerCase().includes(q.toLowerCase());

const spanWords = ({ from, to }: { from: number; to: number | null }): string =>
  to === null ? `${from - 1}+ days` : `${from}–${to} days`;

type Listed = Pick<
  OpenPayable,
  "memberNumber" | "memberName" | "amount" | "owedSince" | "statementId" | "statementNumber"
> & { kind?: OpenPayable["kind"] };

const row = (one: Listed, guild: GuildWords) => ({
  member: `${one.memberNumber} ${one.memberName}`,
  statement: `Statement ${one.statementNumber}`,
  href: `/books/statements/${one.statementId}`,
  since: whenText(one.owedSince, guild),
  why: one.kind === "held" ? "Held until it is enough to pay" : "To be paid",
  amount: guild.money(one.amount),
});
