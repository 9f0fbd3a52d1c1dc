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
      contentSecurityPolicy: { useDefaults: false, directives },
      strictTransportSecurity: secure ? { maxAge: 31_536_000, includeSubDomains: true } : false,
      referrerPolicy: { policy: "same-origin" },
      crossOriginEmbedderPolicy: false,
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
