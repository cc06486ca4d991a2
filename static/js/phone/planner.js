/** The worker in which the phone calculates. Its own answer alone is allowed to compile WebAssembly. */

addEventListener("message", async (/** @type {MessageEvent<import("./check-here.js").Question>} */ { data }) => {
  try {
    postMessage({ html: await answer(data) });
  } catch (error) {
    postMessage({ fault: String(error) });
  }
});

/** @param {import("./check-here.js").Question} question */
async function answer({ files, text, sock, round, path }) {
  const engine = files["pyodide.mjs"];
  const { loadPyodide } = await import(engine);
  const python = await loadPyodide({ indexURL: new URL(".", new URL(engine, location.origin)).href });
  const site = python.runPython("import site; site.getsitepackages()[0]");
  for (const name of ["core.zip", "code.zip"]) {
    const response = await fetch(files[name]);
    python.unpackArchive(await response.arrayBuffer(), "zip", { extractDir: site });
  }
  return python.pyimport("companion.on_phone.answer").check_answer(text, sock, round ?? undefined, path);
}
