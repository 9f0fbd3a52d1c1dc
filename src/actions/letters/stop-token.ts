import { createCipheriv, createDecipheriv, createHmac } from "node:crypto";
import { type LetterKind, letterKinds } from "../../rules/letters/kinds.ts";

/**
 * What a link in a letter carries instead of a sign-in: the member and one kind of letter, sealed
 * with the service's secret. Without the secret it can be neither made nor read, so it opens nothing
 * else and tells nothing about the member. It is the same every time and never ends, because a
 * letter may be found again after years.
 */
export interface StopLink {
  memberId: string;
  kind: LetterKind;
}

const cipher = "aes-256-gcm";
const [nonceLength, idLength, sealLength] = [12, 16, 16];

const keyFor = (secret: string, use: string): Buffer =>
  createHmac("sha256", secret).update(`letters ${use}`).digest();

export function sealStopLink(secret: string, { memberId, kind }: StopLink): string {
  const plain = Buffer.concat([
    Buffer.from(memberId.replaceAll("-", ""), "hex"),
    Buffer.from(kind),
  ]);
  // Taken from what is sealed: two different contents never share a nonce.
  const nonce = createHmac("sha256", keyFor(secret, "nonce"))
    .update(plain)
    .digest()
    .subarray(0, nonceLength);
  const sealing = createCipheriv(cipher, keyFor(secret, "seal"), nonce);
  const sealed = Buffer.concat([nonce, sealing.update(plain), sealing.final()]);
  return Buffer.concat([sealed, sealing.getAuthTag()]).toString("base64url");
}

/** Undefined for whatever this service has not sealed. */
export function openStopLink(secret: string, token: string): StopLink | undefined {
  const whole = Buffer.from(token, "base64url");
  const end = whole.length - sealLength;
  // Two texts that mean the same bytes are not both a link.
  if (end < nonceLength + idLength || whole.toString("base64url") !== token) return undefined;
  const opening = createDecipheriv(cipher, keyFor(secret, "seal"), whole.subarray(0, nonceLength), {
    authTagLength: sealLength,
  });
  opening.setAuthTag(whole.subarray(end));
  try {
    const first = opening.update(whole.subarray(nonceLength, end));
    const plain = Buffer.concat([first, opening.final()]);
    const id = plain.toString("hex", 0, idLength);
    const kind = letterKinds.find((one) => one === plain.toString("utf8", idLength));
    const memberId = id.replace(/^(.{8})(.{4})(.{4})(.{4})/, "$1-$2-$3-$4-");
    return kind && { memberId, kind };
  } catch {
    return undefined;
  }
}
