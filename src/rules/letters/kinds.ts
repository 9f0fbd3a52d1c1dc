/** The letters that members can get, each turned on and off by itself. */
export const letterKinds = [
  "entry-deadline",
  "check-in-time",
  "first-sold",
  "statement-ready",
] as const;

export type LetterKind = (typeof letterKinds)[number];

/** What holds while a member has said nothing: what was asked for anyway comes, news does not. */
export const wantedAtFirst: Readonly<Record<LetterKind, boolean>> = {
  "entry-deadline": true,
  "check-in-time": true,
  "first-sold": false,
  "statement-ready": true,
};

export type LetterChoices = Record<LetterKind, boolean>;

/** What a member wants, from the choices that were made. */
export function choicesFrom(made: readonly { kind: string; wanted: boolean }[]): LetterChoices {
  const known = new Map(made.map(({ kind, wanted }) => [kind, wanted]));
  const pairs = letterKinds.map((kind) => [kind, known.get(kind) ?? wantedAtFirst[kind]]);
  return Object.fromEntries(pairs) as LetterChoices;
}

/** How far a letter has come: "skipped" was no longer wanted, or no longer true, when it was due. */
export const letterStates = ["waiting", "sent", "failed", "skipped", "returned"] as const;

export type LetterState = (typeof letterStates)[number];
