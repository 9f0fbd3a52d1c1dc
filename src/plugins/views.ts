import { fileURLToPath } from "node:url";
import type { FastifyReply, FastifyRequest } from "fastify";
import fastifyPlugin from "fastify-plugin";
import type { Problem } from "../rules/problem.ts";
import { emptyViewBase, type PageData } from "./view-base.ts";
import { buildViews } from "./view-engine.ts";

const ownViews = fileURLToPath(new URL("../../views", import.meta.url));

/** The first message for each field: a second one would only make the first harder to read. */
function errorsByField(problem: Problem | null | undefined): Record<string, string> {
  const errors: Record<string, string> = Object.create(null);
  for (const { field, message } of problem?.errors ?? []) errors[field] ??= message;
  return errors;
}

/** The same messages in their order, for the summary above the form. */
const errorList = (errors: Record<string, string>) =>
  Object.entries(errors).map(([field, message]) => ({ field, message }));

/** The page of ours with the link or form that was used, as a way back from a refusal. */
function cameFrom({ headers, host }: FastifyRequest): string {
  const given = URL.canParse(headers.referer ?? "") ? new URL(headers.referer ?? "") : null;
  // A path that begins with two strokes would name another host.
  const ours = given?.host === host && !given.pathname.startsWith("//");
  return ours ? given.pathname + given.search : "";
}

export interface ViewsOptions {
  /** Another folder of templates; only tests name one. */
  folder?: string;
}

/** Gives every reply `page(template, data)`: one template inside one layout, always escaped. */
export const views = fastifyPlugin<ViewsOptions>(
  async (app, options) => {
    const render = buildViews(options.folder ?? ownViews, app.asset);
    app.decorateRequest("viewBase", null);
    app.decorateReply("page", function (this: FastifyReply, template, data: PageData, status) {
      const path = this.request.url.split("?")[0] ?? "/";
      const base = this.request.viewBase ?? emptyViewBase(path);
      const errors = errorsByField(data.problem);
      const whole = {
        language: base.guild?.locale ?? "en",
        ...base,
        ...data,
        notice: data.notice ?? base.notice,
        errors,
        errorList: errorList(errors),
        cameFrom: cameFrom(this.request),
        isFault: status === 500,
      };
      return this.code(status ?? 200)
        .type("text/html; charset=utf-8")
        .send(render(data.layout ?? "page", template, whole));
    });
  },
  { name: "views", dependencies: ["assets"] },
);
