/** A scanner that reads one tag twice in a row means one piece. */
const within = 800;

export interface LastRead {
  text: string;
  at: number;
}

export const isDoubleRead = (last: LastRead | undefined, text: string, at: number): boolean =>
  last?.text === text && at - last.at < within;
