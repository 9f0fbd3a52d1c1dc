import { listeners } from "../keep/heard.ts";
import type { TillState } from "../parts.ts";

export interface KeptState {
  now(): TillState;
  change(part: Partial<TillState>): void;
  /** What the server refused, by what was asked; undefined once it takes it again. */
  trouble(from: "push" | "pull", words: string | undefined): void;
  /** The server answered, whatever it said. */
  contact(): void;
  onChange(heard: (state: TillState) => void): () => void;
}

/** How the till stands with the server: all that a failure of the network may change. */
export function openState(unsent: number): KeptState {
  let state: TillState = { online: false, unsent };
  const troubles: { push?: string; pull?: string } = {};
  const changes = listeners<TillState>();
  const change = (part: Partial<TillState>) => {
    state = { ...state, ...part };
    changes.tell(state);
  };
  return {
    now: () => state,
    change,
    trouble(from, words) {
      troubles[from] = words;
      change({ trouble: troubles.push ?? troubles.pull });
    },
    contact: () => change({ online: true, lastContact: new Date() }),
    onChange: changes.add,
  };
}
