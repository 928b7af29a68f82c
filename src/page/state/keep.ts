/**
 * The work survives a reload: in the browser's own database, on this machine. Where there is none, as in some browsers
 * for pages from disk, nothing is kept and nothing else changes.
 */
import type { Work } from "./work.ts";

const DATABASE = "weftcut";
const STORE = "work";
const KEY = "now";

export async function kept(): Promise<Work | undefined> {
  try {
    const database = await opened();
    const found: unknown = await answered(database.transaction(STORE).objectStore(STORE).get(KEY));
    database.close();
    return isWork(found) ? found : undefined;
  } catch {
    return undefined;
  }
}

export async function keep(work: Work): Promise<boolean> {
  try {
    const database = await opened();
    const change = database.transaction(STORE, "readwrite");
    await answered(change.objectStore(STORE).put(work, KEY));
    database.close();
    return true;
  } catch {
    return false;
  }
}

function opened(): Promise<IDBDatabase> {
  const request = indexedDB.open(DATABASE, 1);
  request.onupgradeneeded = () => request.result.createObjectStore(STORE);
  return answered(request);
}

function answered<T>(request: IDBRequest<T>): Promise<T> {
  return new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error ?? new Error("no answer"));
  });
}

/** Of another version of the page there may be anything. */
function isWork(value: unknown): value is Work {
  const { job, files } = Object(value) as { job?: unknown; files?: unknown };
  const { name, text } = Object(job) as { name?: unknown; text?: unknown };
  const ofJob = job === undefined || (typeof name === "string" && typeof text === "string");
  return (
    ofJob &&
    files instanceof Map &&
    [...files].every(([key, bytes]) => typeof key === "string" && bytes instanceof Uint8Array)
  );
}
