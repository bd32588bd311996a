// The page's side of the worker: calls, their progress, and stopping them.

/** The bytes of a data block of the page: gzip in base64. */
async function unpacked(id) {
  const text = atob(document.getElementById(id).textContent);
  const bytes = Uint8Array.from(text, (letter) => letter.charCodeAt(0));
  const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip"));
  return new Response(stream).arrayBuffer();
}

/** A call that ended with an error of the library, or was stopped. `code` is usage, unreadable, memory, stopped, ... */
export class CallError extends Error {
  constructor({ code, message }) {
    super(message);
    this.code = code;
  }
}

/** A worker with the library in it. What one keeps open, another does not know. */
export class Engine {
  static #compiled = null;
  static #address = null;
  #worker = null;
  #waiting = new Map();
  #count = 0;

  async #start() {
    Engine.#compiled ??= unpacked("module").then((bytes) => WebAssembly.compile(bytes));
    Engine.#address ??= URL.createObjectURL(new Blob([document.getElementById("worker").textContent], { type: "text/javascript" }));
    const compiled = await Engine.#compiled;
    if (this.#worker) return this.#worker;
    this.#worker = new Worker(Engine.#address);
    this.#worker.onmessage = ({ data }) => this.#hear(data);
    this.#worker.onerror = (event) => this.#end({ code: "fault", message: event.message });
    this.#worker.postMessage({ compiled });
    return this.#worker;
  }

  #hear(data) {
    const call = this.#waiting.get(data.id);
    if (!call) return;
    if (data.progress) {
      call.onProgress?.(data.progress, data.detail);
      return;
    }
    this.#waiting.delete(data.id);
    if (data.broken) this.#end({ code: "fault", message: "" });
    if (data.reply.error) call.reject(new CallError(data.reply.error));
    else call.resolve({ ...data.reply, taken: data.taken });
  }

  /** Ends the worker; what waits fails with `error`. The next call starts another. */
  #end(error) {
    this.#worker?.terminate();
    this.#worker = null;
    for (const call of this.#waiting.values()) call.reject(new CallError(error));
    this.#waiting.clear();
  }

  /** Makes the module ready before it is needed. */
  warm() {
    return this.#start();
  }

  /**
   * Asks the library. `files` are `{path, file}`, where `file` is a Blob. The reply has `taken`, results by name as bytes.
   * Rejects with a CallError.
   */
  async call(name, asked, { files = [], onProgress = null } = {}) {
    const worker = await this.#start();
    const id = ++this.#count;
    return new Promise((resolve, reject) => {
      this.#waiting.set(id, { resolve, reject, onProgress });
      worker.postMessage({ id, name, asked, files });
    });
  }

  /** Stops whatever is being computed. */
  stop() {
    this.#end({ code: "stopped", message: "" });
  }
}

export const engine = new Engine();
