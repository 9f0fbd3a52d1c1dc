/** The head of the OpenAPI document; paths and shapes come from the routes themselves. */
export const apiDocument = {
  openapi: "3.1.0",
  info: {
    title: "Thrumbook",
    version: "0.1.0",
    description:
      "One guild sale from entry to statement. Money is in whole smallest coins of the guild's currency; " +
      "rates are in thousandths of a percent; times are UTC. Writes carry an Idempotency-Key. " +
      "Errors are problem documents (RFC 9457).",
    license: { name: "MIT", identifier: "MIT" },
  },
  components: {
    securitySchemes: {
      bearer: { type: "http" as const, scheme: "bearer", bearerFormat: "JWT" },
      tillCookie: { type: "apiKey" as const, in: "cookie" as const, name: "thrumbook-till" },
    },
  },
  security: [{ bearer: [] }],
};
