import type { FastifyError, FastifyReply, FastifyRequest } from "fastify";
import fastifyPlugin from "fastify-plugin";
import { hasZodFastifySchemaValidationErrors } from "fastify-type-provider-zod";
import { databaseError, outcomeUnknown } from "../database/database-error.ts";
import { unknown } from "../database/perform.ts";
import { type Problem, problem, type Result } from "../rules/problem.ts";
import { isApi, type Reply, type Request } from "./types.ts";

/** Ends a request with a refusal: a page for people, a problem document for the API. */
export class RefusedRequest extends Error {
  constructor(readonly problem: Problem) {
    super(problem.code);
  }
}

/** The value of a result, or the end of the request with its problem. */
export function orRefuse<T>(result: Result<T>): T {
  if (!result.ok) throw new RefusedRequest(result.problem);
  return result.value;
}

/** Ends the request as "not found": unknown and somebody else's answer alike. */
export const notFound = (what: string): RefusedRequest =>
  new RefusedRequest(problem("not-found", `We looked for ${what} and did not find it.`));

export const errors = fastifyPlugin(
  async (app) => {
    app.setErrorHandler((error: FastifyError, request, reply) => {
      const found = problemOf(error);
      if (found.status >= 500) logFault(request, error);
      return sendProblem(request, reply, found);
    });
    app.setNotFoundHandler({ config: { access: "public" } } as object, (request, reply) =>
      sendProblem(
        request,
        reply,
        problem(
          "not-found",
          "Nothing stands at this address. Check it, or start from the first page.",
        ),
      ),
    );
  },
  { name: "errors", dependencies: ["session", "views"] },
);

/** PostgreSQL keeps no NUL in texts or JSON; shapes refuse it where they can. */
const unreadable = new Set(["22021", "22P05"]);

function problemOf(error: FastifyError): Problem {
  if (error instanceof RefusedRequest) return error.problem;
  if (hasZodFastifySchemaValidationErrors(error)) {
    const fields = error.validation.map((issue) => ({
      field: issue.instancePath.replace(/^\//, "").replaceAll("/", "."),
      message: issue.message ?? "Not understood",
    }));
    return problem(
      "invalid-input",
      "Some fields cannot be used as they are. Nothing was recorded.",
      fields,
    );
  }
  if (outcomeUnknown(error)) return unknown();
  if (unreadable.has(databaseError(error)?.sqlState ?? ""))
    return problem(
      "invalid-input",
      "A text holds signs that cannot be kept. Nothing was recorded.",
    );
  const status = error.statusCode ?? 500;
  if (status === 429)
    return problem("too-many-tries", "Too many requests came from here. Wait a minute.");
  if (status < 500)
    return {
      ...problem("invalid-input", "The request could not be read. Nothing was recorded."),
      status,
    };
  return fault;
}

const fault: Problem = {
  ...problem("outcome-unknown", ""),
  status: 500,
  title: "Something went wrong on our side",
  detail:
    "Nothing was half recorded. Try once more; if it happens again, tell the chair the number below.",
};

/**
 * Messages of the database and of its client can quote a row, so only codes, rules and the lines
 * of our code go into the log.
 */
function logFault(request: Request, error: FastifyError): void {
  const { name, code, message } = error;
  const inDatabase = databaseError(error);
  const quoted = inDatabase !== undefined || name.startsWith("PrismaClient");
  const told = quoted
    ? { name, code, sqlState: inDatabase?.sqlState, rule: inDatabase?.rule }
    : { name, code, message: message.slice(0, 500) };
  const at = error.stack?.split("\n").filter((line) => /^\s+at /.test(line));
  request.log.error({ fault: { ...told, at } }, "request failed");
}

export function sendProblem(request: Request, reply: Reply, found: Problem) {
  if (found.status === 503) reply.header("retry-after", "2");
  if (isApi(request.url)) return sendDocument(request, reply, found);
  if (found.code === "not-signed-in" && request.method === "GET")
    return reply.redirect(`/sign-in?next=${encodeURIComponent(request.url)}`, 303);
  const { title, detail, errors: fields } = found;
  return reply.page("problem", { title, detail, fields, requestId: request.id }, found.status);
}

function sendDocument(request: FastifyRequest, reply: FastifyReply, found: Problem) {
  const { code, status, title, detail } = found;
  const errors = found.errors.map(({ field, message }) => ({
    field,
    pointer: `/${field.replaceAll(".", "/")}`,
    message,
  }));
  const type = `/help/problems#${code}`;
  return reply
    .code(status)
    .type("application/problem+json; charset=utf-8")
    .send(JSON.stringify({ type, title, status, detail, code, requestId: request.id, errors }));
}

/**
 * An address with escapes that are none, or with a part too long to be an id, is turned away by
 * the router before any hook has run: no page can be drawn there, so a line of text has to do.
 */
export function badAddress(_error: FastifyError, request: FastifyRequest, reply: FastifyReply) {
  const detail = "This address cannot be read. Check it, or start from the first page.";
  const guarded = reply.header("x-content-type-options", "nosniff");
  if (isApi(request.url)) return sendDocument(request, guarded, problem("not-found", detail));
  return guarded.code(404).type("text/plain; charset=utf-8").send(detail);
}
