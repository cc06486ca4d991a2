/** Asks the modules that run on a phone, in their Python for browsers: node ask.mjs RUNTIME LIBRARY FOLDER. */

import { readFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";

const [runtime, library, folder] = process.argv.slice(2);
const bytes = (path) => new Uint8Array(readFileSync(path));
const module = (path) => import(pathToFileURL(path).href);

const { startAnew, startFromImage } = await module(join(folder, "begun.mjs"));
const [{ loadPyodide }, { default: create }] = await Promise.all(
  ["pyodide.mjs", "pyodide.asm.mjs"].map((name) => module(join(runtime, name))),
);
const parts = { loadPyodide, create, engine: `${runtime}/`, library: [library, join(folder, "library.so")] };
const { image } = await startAnew(parts, bytes(join(folder, "code.zip")));
const { answer } = (await startFromImage(parts, image)).pyimport("companion.on_phone.answer");
const questions = JSON.parse(readFileSync(join(folder, "questions.json"), "utf8"));
const answers = questions.map(([name, question]) => {
  try {
    return JSON.parse(answer(name, JSON.stringify(question)));
  } catch {
    return null;
  }
});
console.log(JSON.stringify(answers));
