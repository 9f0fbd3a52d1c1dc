import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import type { Logger } from "pino";
import type { Database } from "../database/client.ts";
import type { Actor, Deed } from "../database/perform.ts";
import type { KnownDevice } from "../database/till-devices.ts";
import type { Role } from "../rules/roles.ts";
import type { Settings } from "../settings.ts";

/** Who may use a route. Every route says so; one that does not stops the start. */
export type Access = "public" | "signed-in" | "till" | readonly Role[];

export interface Parts {
  settings: Settings;
  db: Database;
  secret: string;
  logger?: Logger;
  /** Where the database is, for hearing its news; without it the tills ask every few seconds. */
  databaseUrl?: string;
  /** The clock, so that tests can move it. */
  now?: () => Date;
}

/** The worker that makes files of labels; it lives beside the app and is told when one waits. */
export interface PrintQueue {
  wake(): void;
  settled(id: string, milliseconds: number): Promise<void>;
  fileOf(id: string): string;
}

/** Sends receipts, statements or letters by e-mail beside the requests; it is told when one waits. */
export interface MailQueue {
  wake(): Promise<void>;
}

/** Tells the streams of the tills that something changed. */
export interface TillNews {
  /** Calls `listener` at each news until the returned function is called. */
  listen(listener: () => void): () => void;
  /** How many listen now. */
  count(): number;
}

export interface SignedIn {
  sessionId: string;
  /** A browser sends cookies by itself and so needs the guard against forged requests. */
  by: "cookie" | "bearer";
}

declare module "fastify" {
  interface FastifyContextConfig {
    access?: Access;
    /** The route acts without a key: it is repeat-safe by itself. */
    keyless?: boolean;
    /** Called by a page that is kept on the device and so holds no form token: only JSON counts. */
    tokenless?: boolean;
    /** The address holds a secret that nobody could forge a request without: no form token is asked. */
    linkIsKey?: boolean;
  }
  interface FastifyInstance {
    parts: Parts;
    now(): Date;
    printJobs: PrintQueue;
    receiptMails: MailQueue;
    statementMails: MailQueue;
    memberMails: MailQueue;
    tillNews: TillNews;
  }
  interface FastifyRequest {
    actor: Actor | null;
    signedIn: SignedIn | null;
    /** The till whose device asks; a route with access "till" always has one. */
    till: KnownDevice | null;
    /** The signed-in person; a route with access other than "public" always has one. */
    who(): Actor;
    /** What an action needs to know about this request. */
    deed(): Deed;
  }
}

export type App = FastifyInstance;
export type Request = FastifyRequest;
export type Reply = FastifyReply;

export const isApi = (url: string): boolean => url === "/api" || url.startsWith("/api/");
