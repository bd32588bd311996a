// What a live session keeps on this device until it is ended or erased: who wears what, and the bytes of every sensor, written every second. A crash costs the second
// that was not written.

const name = "pulsewright-live";

function promised(request) {
  return new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });
}

async function open() {
  const request = indexedDB.open(name, 1);
  request.onupgradeneeded = () => {
    request.result.createObjectStore("sessions", { keyPath: "id" });
    request.result.createObjectStore("pieces", { autoIncrement: true }).createIndex("session", "session");
  };
  return promised(request);
}

async function within(mode, work) {
  const database = await open();
  try {
    const transaction = database.transaction(["sessions", "pieces"], mode, mode === "readwrite" ? { durability: "strict" } : {});
    const result = await work(transaction.objectStore("sessions"), transaction.objectStore("pieces"));
    await new Promise((resolve, reject) => {
      transaction.oncomplete = resolve;
      transaction.onerror = transaction.onabort = () => reject(transaction.error);
      if (mode === "readonly") resolve();
    });
    return result;
  } finally {
    database.close();
  }
}

/** The sessions that were not ended, without making a place for any. */
export async function unended() {
  const there = (await indexedDB.databases()).some((database) => database.name === name);
  return there ? within("readonly", (sessions) => promised(sessions.getAll())) : [];
}

/** Keeps what is known of a session: `{id, begun, sensors: [...]}`. */
export function keepSession(session) {
  return within("readwrite", (sessions) => promised(sessions.put(session)));
}

/** Keeps pieces, `{sensor, arrived_us, bytes, interrupted}`, all or none. */
export function keepPieces(session, pieces) {
  return within("readwrite", (_, store) => Promise.all(pieces.map((piece) => promised(store.add({ session, ...piece })))));
}

/** The pieces of a session, in the order in which they came. */
export function piecesOf(session) {
  return within("readonly", (_, store) => promised(store.index("session").getAll(session)));
}

/** Erases everything that is kept. */
export function eraseAll() {
  return promised(indexedDB.deleteDatabase(name));
}

/** How much is kept, in bytes. */
export async function kept() {
  const sessions = await unended();
  let bytes = 0;
  for (const { id } of sessions) for (const piece of await piecesOf(id)) bytes += piece.bytes.byteLength;
  return { sessions, bytes };
}
