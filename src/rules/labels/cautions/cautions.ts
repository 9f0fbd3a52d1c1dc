import type { FieldError } from "../../problem.ts";
import type { FibreCode } from "../fibres.ts";
import { groupOf } from "../groups.ts";
import type { LabelLine, Language } from "../language.ts";
import { addRule, type Rule } from "../rule.ts";
import { type Caution, type Outcome, outcomes } from "./caution.ts";
import { childCautions } from "./children.ts";
import { type Cloth, judgeFlame, surfaceQuestion } from "./flame.ts";
import { materialCautions } from "./materials.ts";
import { type CautionText, cautionWords } from "./words.ts";

const allCautions: readonly Caution[] = [...materialCautions, ...childCautions, surfaceQuestion];

/** What the entry form asks about a kind of goods; nothing for most. */
export const questionsFor = (kind: string): readonly Caution[] =>
  allCautions.filter(
    ({ groups, kinds = [] }) => groups.includes(groupOf(kind)) || kinds.includes(kind),
  );

/**
 * Answers that no list offers. Those to questions of another kind are let be: an entry whose kind
 * was changed keeps what was said before.
 */
export function checkAnswers(
  kind: string,
  answers: Readonly<Record<string, string>>,
  field = "answers",
): FieldError[] {
  return questionsFor(kind)
    .filter(({ code, options }) => {
      const answer = answers[code] ?? "";
      return answer !== "" && !options.some(({ value }) => value === answer);
    })
    .map(({ code }) => ({ field: `${field}.${code}`, message: "Choose one of the answers." }));
}

export interface CautionDetails {
  kind: string;
  languages: readonly Language[];
  /** The value of the option chosen, by the code of its question. */
  answers: Readonly<Record<string, string>>;
  fibres: readonly FibreCode[];
  cloth?: Cloth;
}

export interface CautionVerdict {
  /** The strictest of all outcomes. An unanswered question has the desk look. */
  outcome: Outcome;
  lines: LabelLine[];
  /** What the desk does, each ending with the pointer to local rules. */
  desk: string[];
  /** Codes of questions still to be answered. */
  unanswered: string[];
  reasons: Rule[];
}

/**
 * What is printed and what the desk does about a piece. Nothing here ever says that a piece is
 * safe or lawful: "fine" only means that we know of nothing to look at.
 */
export function cautionsFor(details: CautionDetails): CautionVerdict {
  const verdict: CautionVerdict = {
    outcome: "fine",
    lines: [],
    desk: [],
    unanswered: [],
    reasons: [],
  };
  const prints = new Set<CautionText>();
  for (const caution of questionsFor(details.kind)) {
    const answer = details.answers[caution.code];
    const option = caution.options.find(({ value }) => value === answer);
    if (!option) {
      verdict.unanswered.push(caution.code);
      note(verdict, caution, "look", `Ask the member: ${caution.question}`);
    } else if (caution.code === surfaceQuestion.code) {
      const flame = judgeFlame(option.value, details.fibres, details.cloth);
      note(verdict, caution, flame.outcome, flame.desk);
      if (flame.prints) prints.add("flame");
    } else {
      note(verdict, caution, option.outcome, option.desk ?? "");
      for (const text of option.prints ?? []) prints.add(text);
    }
  }
  verdict.lines = details.languages.flatMap((language) =>
    [...prints].map((text) => ({ text: cautionWords[language][text], languages: [language] })),
  );
  return verdict;
}

function note(verdict: CautionVerdict, caution: Caution, outcome: Outcome, desk: string): void {
  if (outcome === "fine") return;
  if (outcomes.indexOf(outcome) > outcomes.indexOf(verdict.outcome)) verdict.outcome = outcome;
  verdict.desk.push(`${desk} ${cautionWords["en-US"].pointer}`);
  addRule(verdict.reasons, caution.rule);
}
