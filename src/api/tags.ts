import { z } from "zod";
import { tagQuery } from "../contract/tags.ts";
import { findSale } from "../database/sales.ts";
import { copiesOf, gatherTags } from "../database/tags.ts";
import { notFound, orRefuse } from "../plugins/errors.ts";
import { tagsOf } from "../plugins/seen-items.ts";
import type { App, Reply, Request } from "../plugins/types.ts";
import { tagFile } from "../printing/tag-file.ts";
import { typed } from "./typed.ts";

type TagQuery = z.infer<typeof tagQuery>;

export async function tagApi(app: App): Promise<void> {
  typed(app).get("/sales/:saleId/tags.pdf", {
    config: { access: "signed-in" },
    schema: {
      tags: ["tags"],
      summary:
        "Tags as a PDF to look at: one's own, or a whole sale's for the desk and the chair; not recorded as printed",
      params: z.object({ saleId: z.uuid() }),
      querystring: tagQuery,
    },
    handler: async (request, reply) =>
      sendTags(request as unknown as Request, reply as unknown as Reply, {
        ...request.query,
        saleId: request.params.saleId,
      }),
  });
}

async function sendTags(request: Request, reply: Reply, wanted: TagQuery & { saleId: string }) {
  const { db } = request.server.parts;
  const sale = await findSale(db, wanted.saleId);
  if (!sale) throw notFound("this sale");
  const guild = await db.guild.findFirstOrThrow();
  const memberId = await tagsOf(db, request.who(), wanted.member);
  const words = await gatherTags(db, {
    ...{ saleId: sale.id, memberId, itemId: wanted.item },
    each: wanted.each === "yes",
  });
  const file = orRefuse(
    await tagFile(copiesOf(words, wanted.code), {
      ...{ stock: wanted.stock, startAt: wanted.start, guildName: guild.name },
      ...{ saleName: sale.name, about: wanted.member ? String(wanted.member) : "" },
      secondStrip: wanted.second === "yes",
      createdAt: request.server.now(),
    }),
  );
  return reply
    .type("application/pdf")
    .header("content-disposition", `attachment; filename="${file.name}"`)
    .send(Buffer.from(file.bytes));
}
