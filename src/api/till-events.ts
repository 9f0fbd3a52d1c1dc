import { z } from "zod";
import { RefusedRequest } from "../plugins/errors.ts";
import { tillOf } from "../plugins/till-device.ts";
import { openTillStream, type TillStream } from "../plugins/till-stream.ts";
import type { App, Request } from "../plugins/types.ts";
import { problem } from "../rules/problem.ts";
import { cursorShape } from "./cursor.ts";
import { refusals, typed } from "./typed.ts";

/** Each holds a connection; a hall has eight tills, and one that reconnects counts twice a while. */
const mostStreams = 40;

/** The live news of a till, as server-sent events. */
export async function tillEvents(app: App): Promise<void> {
  const streams = new Set<TillStream>();
  // Before the server waits for its connections: these would never end by themselves.
  app.addHook("preClose", async () => {
    for (const stream of streams) stream.close();
  });

  typed(app).get("/till/events", {
    exposeHeadRoute: false,
    config: { access: "till" },
    schema: {
      tags: ["till device"],
      security: [{ tillCookie: [] }],
      summary: "What changes, as it changes: server-sent events goods, scene, beat and gone",
      querystring: z.object({ after: cursorShape.optional() }),
      response: { 200: eventStream, ...refusals },
    },
    handler: async (request, reply) => {
      if (streams.size >= mostStreams) throw new RefusedRequest(tooMany());
      const after = cursorOf(request as unknown as Request, request.query.after);
      const stream = openTillStream(app.parts.db, app.tillNews, tillOf(request), after);
      streams.add(stream);
      stream.readable.once("close", () => streams.delete(stream));
      reply.raw.once("close", () => stream.readable.destroy());
      return reply
        .type("text/event-stream; charset=utf-8")
        .headers({ "x-accel-buffering": "no", connection: "close" })
        .send(stream.readable as never);
    },
  });
}

const eventStream = {
  description: "A stream that stays open; the id of a goods event is the next cursor",
  content: { "text/event-stream": { schema: z.string() } },
};

/** A browser that comes back names the last id it saw, which is newer than the address. */
function cursorOf(request: Request, after: string | undefined): string {
  const seen = cursorShape.safeParse(request.headers["last-event-id"]).data;
  const cursor = seen ?? after;
  if (cursor !== undefined) return cursor;
  const message = "Give the cursor of the list you have";
  throw new RefusedRequest(problem("invalid-input", message, [{ field: "after", message }]));
}

const tooMany = () =>
  problem("too-many-tries", "Too many tills listen at once. This one looks for changes by itself.");
