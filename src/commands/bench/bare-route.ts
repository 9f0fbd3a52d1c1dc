import Fastify from "fastify";

/** The limit for a look-up: a route that answers one fixed text and knows nobody. */
const app = Fastify({ logger: false });
const answer = {
  itemId: "0198c0de-0000-7000-8000-000000000001",
  tag: "10000119",
  shownTag: "100-001-19",
  memberNumber: 100,
  description: "Scarf 100001",
  size: "",
  price: 4_500,
  quantity: 99,
  onFloor: 99,
  donated: false,
  state: "on-floor",
  sold: null,
};
app.get("/api/sales/:saleId/till-items/:tag", async () => answer);
console.log(await app.listen({ port: 0, host: "127.0.0.1" }));
