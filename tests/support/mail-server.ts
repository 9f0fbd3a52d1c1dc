import { type AddressObject, type ParsedMail, simpleParser } from "mailparser";
import { SMTPServer } from "smtp-server";

export interface MailServer {
  url: string;
  /** What arrived, in order. */
  letters: ParsedMail[];
  /** The addresses that it was asked to take, also those it refused. */
  asked: string[];
  /** The answer to the next messages instead of taking them. */
  refuse(answer?: { at: "address" | "message"; code: number; words: string }): void;
  stop(): Promise<void>;
}

/** A mail server on this machine that keeps what it takes. */
export async function startMailServer(): Promise<MailServer> {
  const letters: ParsedMail[] = [];
  const asked: string[] = [];
  let answer: { at: "address" | "message"; code: number; words: string } | undefined;
  const refusal = (at: "address" | "message") =>
    answer?.at === at
      ? Object.assign(new Error(answer.words), { responseCode: answer.code })
      : null;
  const server = new SMTPServer({
    authOptional: true,
    disabledCommands: ["STARTTLS"],
    onRcptTo({ address }, _session, done) {
      asked.push(address);
      done(refusal("address"));
    },
    onData(stream, _session, done) {
      simpleParser(stream).then((letter) => {
        const refused = refusal("message");
        if (!refused) letters.push(letter);
        done(refused);
      }, done);
    },
  });
  server.on("error", () => {});
  await new Promise<void>((ready) => server.listen(0, "127.0.0.1", ready));
  const { port } = server.server.address() as { port: number };
  return {
    url: `smtp://127.0.0.1:${port}`,
    letters,
    asked,
    refuse: (next) => {
      answer = next;
    },
    stop: () => new Promise<void>((done) => server.close(() => done())),
  };
}

export const toOf = ({ to }: ParsedMail): string => (to as AddressObject).text;
