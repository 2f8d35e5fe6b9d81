// The scripts of the page: modules for a browser, joined into one by render/browser.
const BROWSER = ["Blob", "URL", "XMLSerializer", "document", "localStorage", "setTimeout"];

export default [
  {
    files: ["render/browser/*.js"],
    languageOptions: {
      ecmaVersion: 2023,
      sourceType: "module",
      globals: Object.fromEntries(BROWSER.map((name) => [name, "readonly"])),
    },
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
