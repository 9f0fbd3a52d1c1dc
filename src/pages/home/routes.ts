import type { App } from "../../plugins/types.ts";

export async function homePages(app: App): Promise<void> {
  app.get("/", { config: { access: "signed-in" } }, async (request, reply) =>
    reply.page("home/home", { title: "Start", name: request.who().name }),
  );
}
