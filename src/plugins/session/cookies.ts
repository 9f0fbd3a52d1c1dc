import type { CookieSerializeOptions } from "@fastify/cookie";
import type { Reply, Request } from "../types.ts";

export type CookieName = "access" | "refresh" | "visitor" | "device" | "notice" | "till";

const names: Record<CookieName, string> = {
  access: "thrumbook-access",
  refresh: "thrumbook-refresh",
  visitor: "thrumbook-visitor",
  device: "thrumbook-device",
  notice: "thrumbook-notice",
  till: "thrumbook-till",
};

const isSecure = (request: Request): boolean =>
  request.protocol === "https" ||
  (request.server.parts.settings.publicUrl ?? "").startsWith("https:");

/** Over HTTPS the __Host- prefix stops another host or path from planting a cookie of ours. */
const fullName = (request: Request, name: CookieName): string =>
  isSecure(request) ? `__Host-${names[name]}` : names[name];

export const readCookie = (request: Request, name: CookieName): string | undefined =>
  request.cookies[fullName(request, name)];

export function writeCookie(
  request: Request,
  reply: Reply,
  name: CookieName,
  value: string,
  seconds: number,
): void {
  const options = { ...common(request, name), maxAge: seconds };
  reply.setCookie(fullName(request, name), value, options);
}

export function clearCookie(request: Request, reply: Reply, name: CookieName): void {
  reply.clearCookie(fullName(request, name), common(request, name));
}

/** A till is never reached by a link of another site, so its cookie need not come with one. */
const common = (request: Request, name: CookieName): CookieSerializeOptions => ({
  path: "/",
  httpOnly: true,
  sameSite: name === "till" ? "strict" : "lax",
  secure: isSecure(request),
});
