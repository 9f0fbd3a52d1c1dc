import fastifyPlugin from "fastify-plugin";

/** For whoever watches over the service: is the process alive, and can it serve. */
export const health = fastifyPlugin(
  async (app) => {
    const open = {
      config: { access: "public" as const, rateLimit: false as const },
      logLevel: "warn" as const,
    };
    app.get("/health", open, async () => ({ status: "alive" }));
    app.get("/ready", open, async (_request, reply) => {
      const answered = await app.parts.db.$queryRaw`SELECT 1`.then(
        () => true,
        () => false,
      );
      return reply
        .code(answered ? 200 : 503)
        .send({ status: answered ? "ready" : "waiting for the database" });
    });
  },
  { name: "health", dependencies: ["access"] },
);
