import fastifyPlugin from "fastify-plugin";
import { hasAny, type Role } from "../rules/roles.ts";
import { clearCookie, readCookie, writeCookie } from "./session/cookies.ts";
import { isApi, type Reply, type Request } from "./types.ts";
import { emptyViewBase, type NavLink, type Notice } from "./view-base.ts";

declare module "fastify" {
  interface FastifyReply {
    /** Goes to another page after a deed and shows there, once, what was done. */
    seeOther(path: string, notice?: Notice): FastifyReply;
  }
}

/** Every place of the service and who sees it in the menu. */
const places: { href: string; label: string; roles: readonly Role[]; also?: string[] }[] = [
  { href: "/items", label: "My items", roles: ["member"], also: ["/tags"] },
  { href: "/bench", label: "My bench", roles: ["member"] },
  { href: "/results", label: "My sales", roles: ["member"], also: ["/shifts"] },
  { href: "/desk", label: "Desk", roles: ["desk", "chair"] },
  { href: "/till", label: "Till", roles: ["cashier", "chair"], also: ["/receipts", "/cash-ups"] },
  { href: "/books", label: "Books", roles: ["treasurer", "chair"] },
  { href: "/sales", label: "Sales", roles: ["chair", "treasurer", "desk"] },
  { href: "/members", label: "Members", roles: ["chair", "treasurer"] },
  { href: "/guild", label: "Guild", roles: ["chair"], also: ["/kinds", "/audit"] },
];

/** Fills what every page shows around its content. */
export const pageBase = fastifyPlugin(
  async (app) => {
    app.decorateReply("seeOther", seeOther);
    app.addHook("onRequest", async (request, reply) => {
      if (!isApi(request.url)) await fill(request, reply);
    });
  },
  { name: "page-base", dependencies: ["session", "forged-requests", "views"] },
);

async function fill(request: Request, reply: Reply): Promise<void> {
  const base = emptyViewBase(request.url.split("?")[0] ?? "/");
  request.viewBase = base;
  base.csrf = request.formToken;
  base.notice = takeNotice(request, reply);
  const guild = await request.server.parts.db.guild.findFirst();
  if (guild) {
    const { name, locale, currency } = guild;
    base.guild = { name, locale, currency, currencySign: signOf(locale, currency) };
  }
  if (request.actor) {
    base.user = { name: request.actor.name, href: "/account", signOutAction: "/sign-out" };
    base.nav = navFor(request.actor.roles, base.path);
  }
}

function navFor(roles: readonly Role[], path: string): NavLink[] {
  return places
    .filter((place) => hasAny(roles, place.roles))
    .map(({ href, label, also = [] }) => ({
      href,
      label,
      current: [href, ...also].some((part) => path === part || path.startsWith(`${part}/`)),
    }));
}

const signOf = (locale: string, currency: string): string =>
  new Intl.NumberFormat(locale, { style: "currency", currency, currencyDisplay: "narrowSymbol" })
    .formatToParts(0)
    .find((part) => part.type === "currency")?.value ?? currency;

function seeOther(this: Reply, path: string, notice?: Notice): Reply {
  if (notice) {
    const text = Buffer.from(JSON.stringify(notice)).toString("base64url");
    writeCookie(this.request, this, "notice", text, 60);
  }
  return this.redirect(path, 303);
}

function takeNotice(request: Request, reply: Reply): Notice | null {
  const text = readCookie(request, "notice");
  if (!text || request.method !== "GET") return null;
  clearCookie(request, reply, "notice");
  try {
    const {
      kind,
      text: words,
      title,
    } = JSON.parse(Buffer.from(text, "base64url").toString()) as Notice;
    return {
      kind,
      text: String(words).slice(0, 500),
      ...(title ? { title: String(title).slice(0, 100) } : {}),
    };
  } catch {
    return null;
  }
}
