import { lookIntoDrawer } from "../../actions/look-into-drawer.ts";
import { lookIntoShape } from "../../contract/hindrance.ts";
import { type DrawerDifference, drawerDifferences } from "../../database/drawer-differences.ts";
import type { App, Request } from "../../plugins/types.ts";
import type { Problem } from "../../rules/problem.ts";
import { whenText } from "../format.ts";
import { readForm } from "../read-form.ts";
import { differenceWords } from "../till/difference-words.ts";
import { cursorOf, nextHref, wantId } from "../want-id.ts";
import { books, type GuildWords, guildWords, saleNamed, type WithSale } from "./scene.ts";

type WithDrawer = { Params: { saleId: string; sessionId: string } };
interface Shown {
  problem?: Problem;
  values?: unknown;
  /** The drawer whose form is open. */
  drawer?: string | undefined;
}

/** Drawers that did not come out even, each until somebody says what came of looking into it. */
export async function differencePages(app: App): Promise<void> {
  app.get<WithSale>("/books/:saleId/drawers/differences", books, async (request, reply) => {
    const { drawer } = request.query as { drawer?: string };
    return reply.page("books/differences", await page(request, { drawer }));
  });

  app.post<WithDrawer>(
    "/books/:saleId/drawers/:sessionId/looked-into",
    books,
    async (request, reply) => {
      const sale = await saleNamed(request, request.params.saleId);
      const sessionId = wantId(request.params.sessionId, "this cash-up");
      const read = readForm(lookIntoShape, request.body);
      const done = read.ok
        ? await lookIntoDrawer(request.deed(), { saleId: sale.id, sessionId, ...read.value })
        : read;
      if (!done.ok) {
        const shown = { problem: done.problem, values: request.body, drawer: sessionId };
        return reply.page("books/differences", await page(request, shown), done.problem.status);
      }
      return reply.seeOther(`/books/${sale.id}/drawers/differences`, {
        kind: "good",
        text: "Your note stands beside the cash-up. The drawer is off the list.",
      });
    },
  );
}

async function page(request: Request, { problem, values, drawer }: Shown) {
  const sale = await saleNamed(request, (request.params as { saleId: string }).saleId);
  const guild = await guildWords(request);
  const query = request.query as { after?: string; all?: string };
  const all = query.all === "yes";
  const given = { all, after: cursorOf(query.after), limit: 20 };
  const { items, next } = await drawerDifferences(request.server.parts.db, sale.id, given);
  const path = `/books/${sale.id}/drawers/differences`;
  return {
    title: "Drawers that did not come out even",
    ...{ sale, path, problem, values, all },
    filters: [
      { href: path, label: "To look into", current: !all },
      { href: `${path}?all=yes`, label: "All", current: all },
    ],
    drawers: items.map((row) => drawerRow(row, guild, sale.id, drawer)),
    next: nextHref(path, next, all ? { all: "yes" } : {}),
  };
}

const drawerRow = (row: DrawerDifference, guild: GuildWords, saleId: string, open?: string) => ({
  id: row.sessionId,
  title: `Till ${row.tillNumber}, cashed up ${whenText(row.at, guild)}`,
  words: differenceWords(row.difference, guild.money),
  counted: `${guild.money(row.counted)} counted by ${row.by}.`,
  note: row.note,
  href: `/cash-ups/${row.sessionId}`,
  action: `/books/${saleId}/drawers/${row.sessionId}/looked-into`,
  open: row.sessionId === open && !row.lookedInto,
  lookedInto: row.lookedInto && {
    reason: row.lookedInto.reason,
    who: `${row.lookedInto.by}, ${whenText(row.lookedInto.at, guild)}`,
  },
});
