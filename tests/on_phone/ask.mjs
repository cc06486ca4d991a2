/** Asks the modules that run on a phone, in their Python for browsers: node ask.mjs RUNTIME CODE QUESTIONS. */

import { readFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";

const [runtime, code, asked] = process.argv.slice(2);
const bytes = (path) => new Uint8Array(readFileSync(path));

const { loadPyodide } = await import(pathToFileURL(join(runtime, "pyodide.mjs")).href);
const python = await loadPyodide({ indexURL: `${runtime}/` });
const site = python.runPython("import site; site.getsitepackages()[0]");
for (const path of [join(runtime, "core.zip"), code]) python.unpackArchive(bytes(path), "zip", { extractDir: site });
const { answer } = python.pyimport("companion.on_phone.answer");
const questions = JSON.parse(readFileSync(asked, "utf8"));
const answers = questions.map(([name, question]) => {
  try {
    return JSON.parse(answer(name, JSON.stringify(question)));
  } catch {
    return null;
  }
});
console.log(JSON.stringify(answers));
