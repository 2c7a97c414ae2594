import tseslint from "typescript-eslint";
import importX from "eslint-plugin-import-x";

/** Which room may import which: taskpane -> functions -> src, command -> src. */
const boundary = (files, forbidden, message) => ({
  files,
  rules: { "no-restricted-imports": ["error", { patterns: forbidden.map((group) => ({ group: [group], message })) }] },
});

export default tseslint.config(
  { ignores: ["dist/**", ".cache/**", "node_modules/**", "coverage/**", "tests/output/**"] },
  ...tseslint.configs.recommended,
  {
    plugins: { "import-x": importX },
    languageOptions: { globals: { process: "readonly", console: "readonly", URL: "readonly", setTimeout: "readonly", clearTimeout: "readonly", Buffer: "readonly" } },
    settings: { "import-x/resolver-next": [importX.createNodeResolver({ extensions: [".ts", ".tsx", ".js"] })], "import-x/parsers": { "@typescript-eslint/parser": [".ts", ".tsx"] } },
    rules: {
      "import-x/no-cycle": "error",
      "@typescript-eslint/no-explicit-any": "error",
      "@typescript-eslint/no-unused-vars": ["error", { argsIgnorePattern: "^_" }],
      eqeqeq: ["error", "smart"],
      "no-console": "error",
    },
  },
  { files: ["functions/**", "taskpane/host/**"], rules: { "@typescript-eslint/no-explicit-any": "off" } },
  { files: ["scripts/**", "command/**", "tests/**"], rules: { "no-console": "off", "@typescript-eslint/no-explicit-any": "off" } },
  boundary(["src/**/*.ts"], ["**/functions/**", "**/taskpane/**", "**/command/**", "node:*"], "src is pure: it imports nothing outside src"),
  boundary(["functions/**/*.ts"], ["**/taskpane/**", "**/command/**", "node:*"], "functions import src only"),
  boundary(["command/**/*.ts"], ["**/taskpane/**", "**/functions/**"], "the command imports src only"),
);
