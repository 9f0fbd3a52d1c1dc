import type { App } from "../../plugins/types.ts";
import { type ProblemCode, problem } from "../../rules/problem.ts";
import { stages } from "../../rules/sale-stage.ts";
import { stageWords } from "../../rules/stage-words.ts";
import { advice } from "./advice.ts";

/** How a sale goes, for each role, and what each refusal means. */
export async function helpPages(app: App): Promise<void> {
  const open = { config: { access: "public" as const } };

  app.get("/help", open, async (_request, reply) =>
    reply.page("help/help", {
      title: "How a sale goes",
      stages: stages.map((stage) => stageWords[stage]),
    }),
  );

  app.get("/help/problems", open, async (_request, reply) =>
    reply.page("help/problems", {
      title: "When something is refused",
      problems: (Object.keys(advice) as ProblemCode[]).map((code) => ({
        ...problem(code, ""),
        advice: advice[code],
      })),
    }),
  );
}
