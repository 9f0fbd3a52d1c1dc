import { createHmac } from "node:crypto";
import { readCookie, writeCookie } from "../../plugins/session/cookies.ts";
import { randomToken, sameText } from "../../plugins/session/tokens.ts";
import type { Reply, Request } from "../../plugins/types.ts";

const yearSeconds = 365 * 86_400;

const mark = (secret: string, memberId: string, device: string): string =>
  createHmac("sha256", secret).update(`device ${memberId} ${device}`).digest("base64url");

/** Remembers that this account has signed in from this device, and nothing else about it. */
export function rememberDevice(request: Request, reply: Reply, memberId: string): void {
  const device = readDevice(request)?.device ?? randomToken();
  const sign = mark(request.server.parts.secret, memberId, device);
  writeCookie(request, reply, "device", `${device}.${sign}`, yearSeconds);
}

/** The device's name for its throttle, when this account has signed in from it before. */
export const knownDevice =
  (request: Request) =>
  (memberId: string): string | undefined => {
    const found = readDevice(request);
    if (!found) return undefined;
    return sameText(found.sign, mark(request.server.parts.secret, memberId, found.device))
      ? found.device
      : undefined;
  };

function readDevice(request: Request): { device: string; sign: string } | undefined {
  const [device, sign] = (readCookie(request, "device") ?? "").split(".");
  return device && sign ? { device, sign } : undefined;
}
