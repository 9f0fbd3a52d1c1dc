import type { Enrolled, Enrolment } from "../contract/till-enrolment.ts";
import type { Database, Transaction } from "../database/client.ts";
import { type Actor, type Deed, perform } from "../database/perform.ts";
import { ok, type Problem, problem, type Result, refuse } from "../rules/problem.ts";
import type { Role } from "../rules/roles.ts";
import { readCode } from "../rules/till-code.ts";
import { hashCode } from "./make-till-code.ts";
import { giveTurnBack, takeTurn } from "./take-turn.ts";

export interface EnrolmentTry {
  code: string;
  name: string;
  attempt?: string | undefined;
  keeps?: Enrolment["keeps"];
  tokenHash: string;
  source: string;
  requestId: string;
  now: Date;
}

/**
 * Makes a device a till by its one-use code. Nobody is signed in on it, so the deed is the chair's
 * who made the code. A try whose answer was lost may be sent again under the same `attempt`: it
 * gets a fresh token as long as the first one has never been used. Every try counts for its source.
 */
export async function enrolTill(db: Database, given: EnrolmentTry): Promise<Result<Enrolled>> {
  const bucket = { name: `till-code ${given.source}`, free: 20 };
  const seconds = await takeTurn(db, bucket, given.now);
  if (seconds > 0)
    return refuse("too-many-tries", `Wait ${seconds} seconds, then type the code again.`);
  const codeHash = hashCode(readCode(given.code) ?? "");
  const chair = await chairOf(db, codeHash);
  if (!chair) return usedUp();
  const { requestId, attempt } = given;
  const deed = { db, actor: chair, requestId, ...(attempt ? { key: `till ${attempt}` } : {}) };
  const enrolled = await enrol(deed, codeHash, given);
  if (!enrolled.ok) return enrolled;
  await giveTurnBack(db, bucket);
  return attempt ? renewUnused(db, enrolled.value, given.tokenHash) : enrolled;
}

const usedUp = () =>
  refuse(
    "link-used",
    "This code is not right, has been used, or is older than fifteen minutes. Ask the chair for a new one.",
  );

/** The chair who made the code, while still one: a code does not outlive the office. */
async function chairOf(db: Database, codeHash: string): Promise<Actor | undefined> {
  const code = await db.tillCode.findUnique({ where: { codeHash } });
  const by = code && (await db.member.findUnique({ where: { id: code.byId } }));
  if (by?.status !== "active" || !by.roles.includes("chair")) return undefined;
  return { id: by.id, number: by.number, name: by.name, roles: by.roles as Role[] };
}

const enrol = (
  deed: Deed,
  codeHash: string,
  { name, tokenHash, keeps, now }: EnrolmentTry,
): Promise<Result<Enrolled>> =>
  perform(
    deed,
    "enrol-till",
    { codeHash, name, ...(keeps ? { keeps } : {}) },
    async (tx) => {
      // The count decides which device has the code when two send it at once.
      const used = await tx.tillCode.updateMany({
        where: { codeHash, usedAt: null, expiresAt: { gt: now } },
        data: { usedAt: now },
      });
      if (used.count === 0) return usedUp();
      const code = await tx.tillCode.findUniqueOrThrow({
        where: { codeHash },
        include: { till: { include: { device: true } } },
      });
      const { id: tillId, number, saleId, name: tillName, device: earlier } = code.till;
      const strange = await notThisDevice(tx, code.till, keeps);
      if (strange) return { ok: false, problem: strange };
      const device = { name, tokenHash, enrolledById: deed.actor.id, enrolledAt: now };
      await tx.tillDevice.upsert({
        where: { tillId },
        create: { tillId, ...device },
        update: { ...device, lostAt: null, lastSeenAt: null },
      });
      const value = { tillId, number, name: tillName, saleId };
      const detail = { number, device: name, ...(earlier ? { again: true } : {}) };
      return ok({ value, subjectId: tillId, detail });
    },
    { till_device_pkey: taken },
  );

/**
 * What stands against it: a device that is a till comes back only as the same till, and a till that
 * has a device takes back only that one, which knows the till's last number and may know later ones.
 */
async function notThisDevice(
  tx: Transaction,
  till: { id: string; number: number; device: object | null },
  keeps: EnrolmentTry["keeps"],
): Promise<Problem | undefined> {
  if (keeps && keeps.tillId !== till.id)
    return problem(
      "already-done",
      `This device keeps another till's receipts, and the code is for till ${till.number}. Ask the chair for a code for this device's own till.`,
    );
  if (!till.device) return undefined;
  const { _max } = await tx.receipt.aggregate({
    where: { tillId: till.id },
    _max: { number: true },
  });
  return keeps && keeps.lastNumber >= (_max.number ?? 0) ? undefined : taken();
}

const taken = () =>
  problem(
    "already-done",
    "This till lives on another device and stays there, because the device numbers its receipts. Ask the chair to add another till.",
  );

/** Puts the token of this answer in the place of one that never arrived. */
async function renewUnused(
  db: Database,
  enrolled: Enrolled,
  tokenHash: string,
): Promise<Result<Enrolled>> {
  const renewed = await db.tillDevice.updateMany({
    where: { tillId: enrolled.tillId, lostAt: null, lastSeenAt: null },
    data: { tokenHash },
  });
  return renewed.count === 1 ? ok(enrolled) : usedUp();
}
