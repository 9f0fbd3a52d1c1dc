import type { App } from "../../plugins/types.ts";
import { type ApiDocument, outline } from "./outline.ts";

/** The OpenAPI document for reading: the same source, so that the two cannot differ. */
export async function referencePages(app: App): Promise<void> {
  app.get("/help/api", { config: { access: "public" } }, async (_request, reply) => {
    const document = (await app.inject("/api/openapi.json")).json<ApiDocument>();
    return reply.page("reference/reference", {
      title: "The API",
      groups: outline(document),
    });
  });
}
