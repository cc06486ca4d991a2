/** IndexedDB by promises: a database that is opened when it is needed, and work that is done in one transaction. */

/**
 * @template {string} StoreName
 * @typedef {Record<StoreName, IDBObjectStore>} Stores
 */

/**
 * The database of that name. It is opened by the first transaction.
 * @template {string} StoreName
 * @param {string} name
 * @param {number} version
 * @param {(transaction: IDBTransaction, before: number) => void} upgrade makes what the version has and the one
 *   `before`, 0 for none, has not
 */
export function database(name, version, upgrade) {
  /** @type {Promise<IDBDatabase> | null} */
  let handle = null;

  /** The handle is dropped when the browser closes it; a failed open is not remembered. */
  function open() {
    handle ??= opened(name, version, upgrade, drop);
    handle.catch(drop);
    return handle;
  }

  function drop() {
    handle = null;
  }

  /**
   * @param {IDBTransactionMode} mode
   * @param {StoreName[]} names
   * @param {IDBTransactionOptions} options
   */
  async function begin(mode, names, options) {
    try {
      return (await open()).transaction(names, mode, options);
    } catch (error) {
      // The browser may have closed the handle without telling: once more with a new one.
      if (!(error instanceof DOMException && error.name === "InvalidStateError")) throw error;
      drop();
      return (await open()).transaction(names, mode, options);
    }
  }

  /**
   * Run `work` in one transaction; resolves with its answer once the transaction has completed.
   * @template T
   * @param {"readonly" | "readwrite"} mode
   * @param {(stores: Stores<StoreName>) => Promise<T>} work
   * @param {StoreName[]} names the stores that it needs
   * @param {IDBTransactionDurability} [durability] strict: nothing that it wrote can get lost any more
   * @returns {Promise<T>}
   */
  return async (mode, work, names, durability = "strict") => {
    try {
      return await completed(await begin(mode, names, { durability }), work);
    } catch (error) {
      throw inWords(error);
    }
  };
}

/** The browser neither keeps nor gives what a page wants to store. */
export class StorageError extends Error {}

/** A refusal of the browser in words for a page to go on from; other faults have theirs. @param {unknown} error */
function inWords(error) {
  if (!(error instanceof DOMException)) return error;
  const full = error.name === "QuotaExceededError";
  return new StorageError(full ? "the device is full" : "the browser does not let the page store it", { cause: error });
}

/**
 * @param {string} name
 * @param {number} version
 * @param {(transaction: IDBTransaction, before: number) => void} upgrade
 * @param {() => void} closed
 * @returns {Promise<IDBDatabase>}
 */
function opened(name, version, upgrade, closed) {
  return new Promise((resolve, reject) => {
    const request = indexedDB.open(name, version);
    request.onupgradeneeded = ({ oldVersion }) => request.transaction && upgrade(request.transaction, oldVersion);
    request.onerror = () => reject(request.error);
    request.onsuccess = () => {
      const { result } = request;
      result.onclose = closed;
      result.onversionchange = () => {
        result.close();
        closed();
      };
      resolve(result);
    };
  });
}

/** Those that still ask or write. What has all that it writes completes without its page. @type {Set<IDBTransaction>} */
const unfinished = new Set();
let cut = false;

// A page that is kept for the way back in the middle of one would block the database for all others.
addEventListener("pagehide", ({ persisted }) => {
  cut = persisted && unfinished.size > 0;
  if (cut) unfinished.forEach(abort);
});
addEventListener("pageshow", ({ persisted }) => {
  if (persisted && cut) location.reload(); // something was not read
});

/**
 * @template T
 * @param {IDBTransaction} transaction
 * @param {(stores: any) => Promise<T>} work
 * @returns {Promise<T>}
 */
function completed(transaction, work) {
  return new Promise((resolve, reject) => {
    /** @type {T} */
    let answer;
    /** @type {unknown} */
    let failure;
    transaction.oncomplete = () => resolve(answer);
    transaction.onabort = () => reject(failure ?? transaction.error);
    const stores = [...transaction.objectStoreNames].map((name) => [name, transaction.objectStore(name)]);
    unfinished.add(transaction);
    work(Object.fromEntries(stores)).then(
      (value) => {
        answer = value;
        unfinished.delete(transaction);
        transaction.commit(); // at once, without waiting for the answers to what was written
      },
      (error) => {
        failure = error;
        unfinished.delete(transaction);
        abort(transaction);
      },
    );
  });
}

/** A transaction that failed by itself is over already. @param {IDBTransaction} transaction */
function abort(transaction) {
  try {
    transaction.abort();
  } catch {
    return;
  }
}

/**
 * What the browser answers to one request.
 * @param {IDBRequest} request
 * @returns {Promise<any>}
 */
export function answerTo(request) {
  return new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });
}
