import { afterAll, beforeAll, expect, test } from "vitest";
import { startApp, type TestApp } from "../support/app.ts";

let service: TestApp;
beforeAll(async () => {
  service = await startApp();
});
afterAll(() => service.close());

test.each(["/sign-in", "/api/session", "/nothing", "/health"])(
  "%s carries the same guards at the first answer and at later ones",
  async (url) => {
    const answers = [];
    for (let time = 0; time < 3; time += 1) answers.push(await service.app.inject({ url }));
    for (const { headers } of answers) {
      expect(headers["content-security-policy"]).toContain("default-src 'none'");
      expect(headers["content-security-policy"]).toContain("frame-ancestors 'none'");
      expect(headers["x-content-type-options"]).toBe("nosniff");
      expect(headers["referrer-policy"]).toBe("same-origin");
      expect(headers["cache-control"]).toBe("no-store");
    }
  },
);
