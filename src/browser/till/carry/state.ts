import { listeners } from "../keep/heard.ts";
import type { TillState } from "../parts.ts";

/** What the server said against something, with the code of the problem when it gave one. */
export interface Refusal {
  code: string;
  detail: string;
}

export interface KeptState {
  now(): TillState;
  change(part: Partial<TillState>): void;
  /** What the server refused, by what was asked; undefined once it takes it again. */
  trouble(from: "push" | "pull", refusal: Refusal | undefined): void;
  /** The server answered, whatever it said. */
  contact(): void;
  /** The server's clock at this moment, in milliseconds since 1970. */
  clock(now: number): void;
  onChange(heard: (state: TillState) => void): () => void;
}

/** How the till stands with the server: all that a failure of the network may change. */
export function openState(unsent: number): KeptState {
  let state: TillState = { online: false, unsent };
  const troubles: { push?: Refusal; pull?: Refusal } = {};
  const changes = listeners<TillState>();
  const change = (part: Partial<TillState>) => {
    state = { ...state, ...part };
    changes.tell(state);
  };
  return {
    now: () => state,
    change,
    trouble(from, refusal) {
      troubles[from] = refusal;
      const now = troubles.push ?? troubles.pull;
      change({ trouble: now?.detail, shutOut: now?.code === "not-a-till" });
    },
    contact: () => change({ online: true, lastContact: new Date() }),
    clock: (now) => change({ clockAhead: Date.now() - now }),
    onChange: changes.add,
  };
}
