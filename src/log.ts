import { type DestinationStream, type Logger, pino } from "pino";
import type { Settings } from "./settings.ts";

/** What could carry a secret or a person's data never reaches the log, whoever logs it. */
const hidden = [
  "req.headers.authorization",
  "req.headers.cookie",
  "*.passphrase",
  "*.passphraseHash",
  "*.email",
  "*.phone",
  "*.token",
  "*.accessToken",
  "*.refreshToken",
];

/** Writes to the terminal; only tests name another place. */
export const makeLogger = (
  { logLevel: level }: Pick<Settings, "logLevel">,
  destination?: DestinationStream,
): Logger => pino({ level, redact: { paths: hidden, censor: "hidden" }, serializers }, destination);

const serializers = {
  // One-use links carry their token in the path; queries can carry names that were searched for.
  req: (request: { id: string; method: string; url: string }) => ({
    id: request.id,
    method: request.method,
    path: (request.url.split("?")[0] ?? "").replace(
      /^\/(join|set-up|letters\/stop|letters\/again)\/.+/,
      "/$1/…",
    ),
  }),
};
