import { randomUUID } from "node:crypto";
import { join } from "node:path";
import formbody from "@fastify/formbody";
import rateLimit from "@fastify/rate-limit";
import Fastify from "fastify";
import { api } from "./api/index.ts";
import { startMemberMails } from "./jobs/member-mails.ts";
import { startPrintJobs } from "./jobs/print-jobs.ts";
import { startReceiptMails } from "./jobs/receipt-mails.ts";
import { startStatementMails } from "./jobs/statement-mails.ts";
import { startTillNews } from "./jobs/till-news.ts";
import { pages } from "./pages/index.ts";
import { access } from "./plugins/access.ts";
import { assets } from "./plugins/assets.ts";
import { badAddress, errors } from "./plugins/errors.ts";
import { forgedRequests } from "./plugins/forged-requests.ts";
import { health } from "./plugins/health.ts";
import { pageBase } from "./plugins/page-base.ts";
import { securityHeaders } from "./plugins/security-headers.ts";
import { session } from "./plugins/session/index.ts";
import { tillDevice } from "./plugins/till-device.ts";
import type { App, Parts } from "./plugins/types.ts";
import { views } from "./plugins/views.ts";

/** Puts the service together, in the order in which a request passes through it. Never listens. */
export async function buildApp(parts: Parts): Promise<App> {
  const { trustedProxies } = parts.settings;
  const app = Fastify({
    ...(parts.logger ? { loggerInstance: parts.logger } : { logger: false }),
    trustProxy: trustedProxies.length > 0 ? trustedProxies : false,
    genReqId: () => randomUUID(),
    bodyLimit: 1_000_000,
    forceCloseConnections: "idle",
    frameworkErrors: badAddress,
  }) as unknown as App;
  app.decorate("parts", parts);
  app.decorate("now", parts.now ?? (() => new Date()));
  const printJobs = startPrintJobs(parts.db, join(parts.settings.dataDir, "prints"), (error) =>
    app.log.error({ fault: String(error) }, "a print failed"),
  );
  app.decorate("printJobs", printJobs);
  app.addHook("onListen", async () => printJobs.wake());
  app.addHook("onClose", () => printJobs.stop());
  const tillNews = startTillNews(parts.databaseUrl, (error) =>
    app.log.warn({ fault: String(error) }, "the news of the tills is interrupted"),
  );
  app.decorate("tillNews", tillNews);
  app.addHook("onClose", () => tillNews.stop());
  const mailParts = {
    db: parts.db,
    way: parts.settings.mail,
    now: () => app.now(),
    failed: (error: unknown) =>
      app.log.error({ fault: String(error) }, "a message by e-mail failed"),
  };
  const receiptMails = startReceiptMails(mailParts);
  app.decorate("receiptMails", receiptMails);
  const statementMails = startStatementMails(mailParts);
  app.decorate("statementMails", statementMails);
  const site = parts.settings.publicUrl;
  const memberMails = startMemberMails({ ...mailParts, site, secret: parts.secret });
  app.decorate("memberMails", memberMails);
  const mails = [receiptMails, statementMails, memberMails];
  app.addHook("onListen", async () => {
    for (const queue of mails) void queue.wake();
  });
  app.addHook("onClose", () => Promise.all(mails.map((queue) => queue.stop())));
  await app.register(securityHeaders);
  await app.register(formbody, { bodyLimit: 500_000 });
  await app.register(session);
  await app.register(forgedRequests);
  await app.register(assets);
  await app.register(views);
  await app.register(errors);
  await app.register(pageBase);
  await app.register(tillDevice);
  await app.register(access);
  await app.register(rateLimit, {
    max: 1200,
    timeWindow: "1 minute",
    // A whole hall shares one address, so people count by their session and tills by themselves.
    keyGenerator: (request) => request.till?.tillId ?? request.signedIn?.sessionId ?? request.ip,
  });
  await app.register(health);
  await app.register(pages);
  await app.register(api, { prefix: "/api" });
  return app;
}
