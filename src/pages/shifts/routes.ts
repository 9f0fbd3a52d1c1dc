import type { App } from "../../plugins/types.ts";
import { shiftCsv } from "./csv-route.ts";
import { shiftList } from "./list-page.ts";
import { oneShiftPages } from "./one-routes.ts";
import { ownShiftPages } from "./own-routes.ts";
import { planPages } from "./plan-routes.ts";
import { lookers, type WithSale } from "./scene.ts";

/** Who works when at a sale, and who has. */
export async function shiftPages(app: App): Promise<void> {
  app.get<WithSale>("/sales/:id/shifts", lookers, async (request, reply) =>
    shiftList(request, reply),
  );
  await app.register(planPages);
  await app.register(oneShiftPages);
  await app.register(shiftCsv);
  await app.register(ownShiftPages);
}
