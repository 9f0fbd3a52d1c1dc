import { expect, test } from "vitest";
import { readSettings } from "../src/settings.ts";

test("an empty environment gives settings that work", () => {
  expect(readSettings({})).toMatchObject({
    port: 7450,
    host: "127.0.0.1",
    databaseUrl: undefined,
    trustedProxies: [],
  });
});

test("a wrong value is named with the reason, all of them at once", () => {
  expect(() => readSettings({ PORT: "seventy", SECRET: "short" })).toThrow(
    /PORT[\s\S]*SECRET: .*32/,
  );
});

test("lists are split and addresses lose their last slash", () => {
  const settings = readSettings({
    TRUSTED_PROXIES: "10.0.0.1, 10.1.0.0/16",
    PUBLIC_URL: "https://sale.example.org/",
  });
  expect(settings.trustedProxies).toEqual(["10.0.0.1", "10.1.0.0/16"]);
  expect(settings.publicUrl).toBe("https://sale.example.org");
});
