// The computing, away from the page so that it stays awake. Gets a call with files, gives a reply with results.
/* global makePulsewright */

let module = null;

/** The module, made of the compiled code that the page hands over once. */
async function open(compiled) {
  module = await makePulsewright({
    instantiateWasm(imports, done) {
      WebAssembly.instantiate(compiled, imports).then((instance) => done(instance, compiled));
      return {};
    },
    print: () => {},
    printErr: () => {},
  });
  module.FS.mkdir(inputs);
  module.FS.chdir(inputs);
}

const inputs = "/inputs";

function makeFolders(path) {
  let folder = "";
  for (const part of path.split("/").slice(0, -1)) {
    folder += `${part}/`;
    if (part && !module.FS.analyzePath(folder).exists) module.FS.mkdir(folder);
  }
}

/** The bytes of a file; of one that is packed with gzip what is in it. */
async function bytesOf(file) {
  const [first, second] = new Uint8Array(await file.slice(0, 2).arrayBuffer());
  const packed = first === 0x1f && second === 0x8b;
  return new Uint8Array(await (packed ? new Response(file.stream().pipeThrough(new DecompressionStream("gzip"))) : file).arrayBuffer());
}

/** Puts files where the call looks for them. Their bytes are read here, so that the page never waits for a disk. */
async function put(files) {
  for (const { path, file } of files) {
    makeFolders(path);
    module.FS.writeFile(path, await bytesOf(file), { canOwn: true });
  }
}

function take(files) {
  for (const { path } of files) if (module.FS.analyzePath(path).exists) module.FS.unlink(path);
}

/** Results leave the module's memory for the page's. */
function results(reply) {
  const taken = {};
  for (const path of [reply.file, ...(reply.files ?? [])]) {
    if (!path) continue;
    taken[path.split("/").pop()] = module.FS.readFile(path);
    module.FS.unlink(path);
  }
  return taken;
}

async function answer({ id, name, asked, files }) {
  module.progress = (step, detail) => postMessage({ id, progress: step, detail });
  try {
    module.progress("reading", "");
    await put(files);
    const reply = JSON.parse(module.ccall("pulsewright_call", "string", ["string", "string"], [name, JSON.stringify(asked)]));
    const taken = results(reply);
    postMessage({ id, reply, taken }, Object.values(taken).map((bytes) => bytes.buffer));
  } catch (error) {
    // What is not an answer of the library: memory that the browser refuses, or a fault of ours.
    const memory = error instanceof RangeError || /memory|allocation|could not be read/i.test(String(error?.message ?? error));
    postMessage({ id, reply: { error: { code: memory ? "memory" : "fault", message: String(error?.message ?? error) } }, taken: {}, broken: true });
  } finally {
    take(files);
  }
}

let opening = null, turn = Promise.resolve();
onmessage = async ({ data }) => {
  if (data.compiled) {
    opening = open(data.compiled);
    return;
  }
  await opening;
  // One after the other: reading a file waits, and the module's memory is one.
  turn = turn.then(() => answer(data));
};
