import { availableParallelism } from "node:os";
import { defineConfig } from "vitest/config";

export default defineConfig({
  test: {
    // The database works beside the tests, so on two cores a single worker leaves much of them idle.
    maxWorkers: Math.max(2, availableParallelism() - 1),
    projects: [
      {
        test: {
          name: "server",
          include: ["tests/**/*.test.ts"],
          exclude: ["tests/journeys/**"],
          globalSetup: ["tests/support/global-database.ts"],
          testTimeout: 60_000,
          hookTimeout: 60_000,
        },
      },
      {
        test: {
          name: "browser",
          include: ["tests/journeys/**/*.test.ts"],
          globalSetup: ["tests/support/global-database.ts"],
          testTimeout: 120_000,
          hookTimeout: 120_000,
          fileParallelism: false,
        },
      },
    ],
  },
});
