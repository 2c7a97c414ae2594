import { defineConfig } from "vitest/config";

export default defineConfig({
  test: {
    projects: [
      { test: { name: "unit", include: ["tests/**/*.test.ts", "tests/**/*.test.tsx"], exclude: ["tests/browser/**", "tests/bench/**"], testTimeout: 20000 } },
      { test: { name: "browser", include: ["tests/browser/**/*.test.ts"], testTimeout: 120000, hookTimeout: 180000, maxWorkers: 2, sequence: { groupOrder: 1 } } },
    ],
  },
});
