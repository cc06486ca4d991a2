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
const ask = python.pyimport("companion.on_phone.answer").check_answer;
const questions = JSON.parse(readFileSync(asked, "utf8"));
console.log(JSON.stringify(questions.map(({ text, sock, done, path }) => ask(text, sock, done, path))));
