import { stockListOf } from "../../database/stock-list.ts";
import { notFound } from "../../plugins/errors.ts";
import { listOwner } from "../../plugins/seen-items.ts";
import type { App } from "../../plugins/types.ts";
import { printStockList } from "../../printing/stock-list.ts";
import { sendPdf } from "../paying/scene.ts";
import { wantId } from "../want-id.ts";
import { type Fields, textOf } from "./fields.ts";

/** The list of one's entries to sign at the desk; the desk prints anybody's by the member's number. */
export async function stockListPages(app: App): Promise<void> {
  const { db } = app.parts;

  app.get<{ Params: { id: string } }>(
    "/sales/:id/items/stock-list.pdf",
    { config: { access: "signed-in" } },
    async (request, reply) => {
      const number = textOf(request.query as Fields, "member");
      const memberId = await listOwner(db, request.who(), number);
      const saleId = wantId(request.params.id, "this sale");
      const list = await stockListOf(db, { saleId, memberId });
      if (!list) throw notFound("this sale");
      const bytes = await printStockList(list, app.now());
      return sendPdf(reply, `stock-list-${list.member.number}.pdf`, bytes);
    },
  );
}
