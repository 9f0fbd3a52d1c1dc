import helmet from "@fastify/helmet";
import fastifyPlugin from "fastify-plugin";

/**
 * Nothing inline runs and nothing outside is fetched: a text that slipped through as markup
 * still could not act. Pages are not kept by shared machines.
 */
export const securityHeaders = fastifyPlugin(
  async (app) => {
    const secure = (app.parts.settings.publicUrl ?? "").startsWith("https:");
    await app.register(helmet, {
      global: false,
      contentSecurityPolicy: { useDefaults: false, directives },
      strictTransportSecurity: secure ? { maxAge: 31_536_000, includeSubDomains: true } : false,
      referrerPolicy: { policy: "same-origin" },
      crossOriginEmbedderPolicy: false,
    });
    // The headers are the same for every answer, so they are put together once and not each time.
    let headers: [string, string][] | undefined;
    app.addHook("onRequest", (_request, reply, done) => {
      if (headers) for (const [name, value] of headers) reply.raw.setHeader(name, value);
      else {
        reply.helmet();
        headers = Object.entries(reply.raw.getHeaders()) as [string, string][];
      }
      done();
    });
    app.addHook("onSend", async (_request, reply) => {
      if (!reply.hasHeader("cache-control")) reply.header("cache-control", "no-store");
    });
  },
  { name: "security-headers" },
);

const directives = {
  "default-src": ["'none'"],
  "script-src": ["'self'"],
  "style-src": ["'self'"],
  "img-src": ["'self'", "data:", "blob:"],
  "font-src": ["'self'"],
  "connect-src": ["'self'"],
  "worker-src": ["'self'"],
  "manifest-src": ["'self'"],
  "frame-src": ["'self'"],
  "form-action": ["'self'"],
  "base-uri": ["'none'"],
  "object-src": ["'none'"],
  "frame-ancestors": ["'none'"],
};
