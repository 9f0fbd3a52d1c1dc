import type { Pull } from "./pull.ts";
import type { KeptState } from "./state.ts";

export interface Live {
  stop(): void;
}

export interface LiveParts {
  cursor(): string | undefined;
  pull: Pull;
  state: KeptState;
  /** Opens the stream of news; given so that tests can stand in for it. */
  open?: (address: string) => EventSource;
}

const lookEvery = 15_000;
/** The server beats every 15 seconds; a line that was silent for three of them is dead. */
const silentFor = 45_000;

/**
 * Hears the news of the server as they happen. Without a line it asks every 15 seconds instead, and
 * opens the line again as soon as the server answers. A failure only changes the state.
 */
export function openLive(parts: LiveParts): Live {
  const { pull, state, open = (address) => new EventSource(address) } = parts;
  let line: EventSource | undefined;
  let heardAt = 0;

  const heard = () => {
    heardAt = performance.now();
    state.contact();
  };

  function connect(): void {
    const cursor = parts.cursor();
    if (cursor === undefined) return;
    line?.close();
    line = open(`/api/till/events?after=${cursor}`);
    heardAt = performance.now();
    line.addEventListener("beat", heard);
    line.addEventListener("goods", (news) => {
      heard();
      void pull.came(read(news.data));
    });
    line.addEventListener("scene", () => {
      heard();
      void pull.scene();
    });
    // What the server has to say about it comes as the answer to a question.
    line.addEventListener("gone", () => {
      line?.close();
      void pull.scene();
    });
  }

  async function look(): Promise<void> {
    // 1 is an open line; 0 tries by itself, 2 has given up.
    const alive = line?.readyState === 1 && performance.now() - heardAt < silentFor;
    if (alive) return;
    if ((await pull.scene()) && (await pull.goods())) connect();
  }

  void look();
  const timer = setInterval(() => void look(), lookEvery);
  return {
    stop() {
      clearInterval(timer);
      line?.close();
    },
  };
}

function read(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}
