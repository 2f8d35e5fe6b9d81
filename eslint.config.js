// The scripts of the pages: modules for a browser, those of render/browser joined into one.
const BROWSER = ["Blob", "URL", "XMLSerializer", "document", "localStorage", "setTimeout"];
const SERVED = [
  ...BROWSER, "IntersectionObserver", "WebSocket", "addEventListener", "clearTimeout", "fetch", "location",
  "performance", "requestAnimationFrame", "structuredClone",
];

const language = (names) => ({
  ecmaVersion: 2023,
  sourceType: "module",
  globals: Object.fromEntries(names.map((name) => [name, "readonly"])),
});

export default [
  { files: ["render/browser/*.js"], languageOptions: language(BROWSER) },
  { files: ["openwork/live/page/*.js"], languageOptions: language(SERVED) },
  {
    files: ["render/browser/*.js", "openwork/live/page/*.js"],
    linterOptions: { reportUnusedDisableDirectives: "error" },
    rules: {
      "consistent-return": "error",
      "eqeqeq": "error",
      "max-len": ["error", { code: 110, ignoreTemplateLiterals: true }],
      "max-lines-per-function": ["error", 40],
      "no-const-assign": "error",
      "no-dupe-args": "error",
      "no-dupe-keys": "error",
      "no-duplicate-imports": "error",
      "no-eval": "error",
      "no-fallthrough": "error",
      "no-implied-eval": "error",
      "no-import-assign": "error",
      "no-redeclare": "error",
      "no-self-assign": "error",
      "no-shadow": "error",
      "no-undef": "error",
      "no-unreachable": "error",
      "no-unused-vars": "error",
      "no-use-before-define": ["error", { functions: false, variables: false }],
      "no-var": "error",
      "prefer-const": "error",
      "use-isnan": "error",
      "valid-typeof": "error",
    },
  },
];
