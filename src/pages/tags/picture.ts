import { findLabelStock } from "../../database/label-stocks.ts";
import { copiesOf, gatherTags } from "../../database/tags.ts";
import { notFound } from "../../plugins/errors.ts";
import { seenItem } from "../../plugins/seen-items.ts";
import type { App, Request } from "../../plugins/types.ts";
import { stockNamed, suits } from "../../printing/paper.ts";
import { svgOf } from "../../printing/preview.ts";
import { type Fields, textOf } from "../items/fields.ts";
import { isId, wantId } from "../want-id.ts";
import { whatOf } from "./scope.ts";

const mine = { config: { access: "signed-in" as const } };

/** A label as a picture of its true size, drawn from the marks that go on paper. */
export async function labelPicturePages(app: App): Promise<void> {
  app.get("/tags/picture.svg", mine, async (request, reply) =>
    reply
      .type("image/svg+xml; charset=utf-8")
      .header("cache-control", "private, no-store")
      .send(await picture(request, request.query as Fields)),
  );
}

async function picture(request: Request, query: Fields): Promise<string> {
  const { db } = request.server.parts;
  const id = wantId(textOf(query, "item"), "this item");
  const item = await seenItem(db, request.who(), id);
  const what = whatOf(query);
  const name = textOf(query, "stock");
  const own = isId(name) ? await findLabelStock(db, name) : null;
  const stock = stockNamed(name, own?.shape ?? null);
  if (!stock || !suits(stock, what)) throw notFound("this label stock");
  const tags = await gatherTags(db, { saleId: item.saleId, itemId: item.id, each: true });
  const code = textOf(query, "code");
  const [label] = copiesOf(tags, code === "qr" || code === "both" ? code : "bars");
  if (!label) throw notFound("a tag: this entry is withdrawn");
  const guild = await db.guild.findFirstOrThrow();
  return svgOf(label, stock, { guildName: guild.name, purpose: what });
}
