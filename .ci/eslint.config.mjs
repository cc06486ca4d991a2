/** Faults that the scripts must not have, beside those that the types find. */

export default [
  {
    linterOptions: { reportUnusedDisableDirectives: "error" },
    rules: {
      "array-callback-return": "error",
      eqeqeq: "error",
      "no-console": "error",
      "no-else-return": "error",
      "no-empty": "error",
      "no-eval": "error",
      "no-implied-eval": "error",
      "no-lonely-if": "error",
      "no-restricted-globals": ["error", { name: "indexedDB", message: "lib/idb.js opens databases." }],
      "no-restricted-properties": [
        "error",
        { object: "document", property: "createElement", message: "lib/dom.js makes elements." },
        { object: "document", property: "createElementNS", message: "lib/dom.js makes elements." },
      ],
      "no-self-compare": "error",
      "no-shadow": "error",
      "no-unneeded-ternary": "error",
      "no-unused-expressions": ["error", { allowShortCircuit: true }],
      // What is taken out of a record to be left out is used by that.
      "no-unused-vars": ["error", { ignoreRestSiblings: true }],
      "no-useless-rename": "error",
      "no-var": "error",
      "object-shorthand": "error",
      "prefer-const": "error",
      "prefer-template": "error",
    },
  },
  { files: ["**/lib/idb.js"], rules: { "no-restricted-globals": "off" } },
  {
    files: ["**/lib/*.js"],
    rules: { "no-restricted-imports": ["error", { patterns: [{ group: ["../*"], message: "lib/ knows no page." }] }] },
  },
  { files: ["**/lib/dom.js"], rules: { "no-restricted-properties": "off" } },
];
