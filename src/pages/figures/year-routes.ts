import { flagged, type MemberYearShown } from "../../database/figures/flagged.ts";
import { onOneSnapshot } from "../../database/figures/snapshot.ts";
import { memberYears, yearSpan, yearSums } from "../../database/figures/year-totals.ts";
import { reportThresholdOf } from "../../database/report-threshold.ts";
import type { App, Request } from "../../plugins/types.ts";
import { dayIn } from "../../rules/day.ts";
import { books, type GuildWords, guildWords, numberAfter, places } from "../books/scene.ts";
import { nextHref, searchOf } from "../want-id.ts";
import { agreement } from "./agreement.ts";
import { figure, sendCsv } from "./send-csv.ts";
import { thresholdWords } from "./threshold-words.ts";

type Asked = { Querystring: Partial<Record<"year" | "q" | "after", string>> };

const path = "/books/year-end";

/** What a calendar year came to for each member. */
export async function yearPages(app: App): Promise<void> {
  app.get<Asked>(path, books, async (request, reply) =>
    reply.page("figures/year", await page(request as Request)),
  );

  app.get<Asked>("/books/year-end.csv", books, async (request, reply) => {
    const guild = await guildWords(request);
    const { year, span } = asked(request as Request, guild);
    const { items } = await memberYears(app.parts.db, span, {});
    const threshold = await reportThresholdOf(app.parts.db);
    const rows = flagged(items, year, guild.timeZone, threshold).map((row) => csvRow(row, guild));
    return sendCsv(reply, `members-${year}.csv`, [csvHead, ...rows]);
  });
}

/** The year of an address, or the one that the guild's calendar shows. */
function asked(request: Request, { timeZone }: GuildWords) {
  const { year } = request.query as Asked["Querystring"];
  const today = dayIn(request.server.now(), timeZone);
  const isYear = typeof year === "string" && /^(19|20|21)\d\d$/.test(year);
  const wanted = Number(isYear ? year : today.slice(0, 4));
  return { year: wanted, span: yearSpan(wanted, timeZone) };
}

async function page(request: Request) {
  const { db } = request.server.parts;
  const guild = await guildWords(request);
  const { year, span } = asked(request, guild);
  const query = request.query as Asked["Querystring"];
  const q = searchOf(query.q);
  const threshold = await reportThresholdOf(db);
  const { found, sums } = await onOneSnapshot(db, async (tx) => ({
    found: await memberYears(tx, span, { q, after: numberAfter(query.after), limit: 50 }),
    sums: await yearSums(tx, span),
  }));
  const moved = sums.sold - sums.guildShare - sums.fees + sums.others - sums.paid;
  const { money } = guild;
  return {
    ...{ title: `Members in ${year}`, path, q, year, places: places(path) },
    before: { year: year - 1, href: `${path}?year=${year - 1}` },
    after: { year: year + 1, href: `${path}?year=${year + 1}` },
    threshold: thresholdWords(threshold, guild),
    csvHref: `/books/year-end.csv?year=${year}`,
    agreement: agreement(
      sums.agrees,
      `Members' accounts moved by ${money(moved)} in ${year}`,
      money(sums.booked),
    ),
    sums: amounts(sums, guild),
    members: flagged(found.items, year, guild.timeZone, threshold).map((row) => ({
      ...amounts(row, guild),
      member: `${row.number} ${row.name}`,
      toReport: row.toReport,
    })),
    next: nextHref(path, found.next, { year: String(year), q }),
  };
}

type Amounts = Pick<MemberYearShown, "sold" | "guildShare" | "fees" | "others" | "paid">;

const amounts = (row: Amounts, { money }: GuildWords) => ({
  sold: money(row.sold),
  guildShare: money(row.guildShare),
  fees: money(row.fees),
  others: money(row.others),
  paid: money(row.paid),
});

const csvHead = [
  ...["member number", "name", "sold", "guild share", "fees", "adjustments and losses", "paid out"],
  "reaches the reporting threshold",
];

const csvRow = (row: MemberYearShown, { currency }: GuildWords) => [
  ...[row.number, row.name, figure(row.sold, currency), figure(row.guildShare, currency)],
  ...[figure(row.fees, currency), figure(row.others, currency), figure(row.paid, currency)],
  row.toReport ? "yes" : "no",
];
