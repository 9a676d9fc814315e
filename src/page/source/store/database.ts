/** The storage of this browser for jobs, their steps and their photos. A convenience: the exported file is the record. */

export interface KeptJob {
  id: string;
  name: string;
  /** The case as it stands after step `step`: what is saved, to the byte. */
  text: string;
  step: number;
  changedAt: string;
  exportedAt: string | null;
  exportedStep: number | null;
  acknowledged: boolean;
  acknowledgedAt: string | null;
  /** Logger files that the case names, by name. */
  files: Record<string, string>;
}

/** One change: at `start` of the text before it, `gone` was replaced by `put`. */
export interface Step {
  job: string;
  step: number;
  at: string;
  what: string;
  start: number;
  gone: string;
  put: string;
  /** The step that this one takes back, or does again. */
  undoes?: number;
  redoes?: number;
}

export interface KeptPhoto {
  id: string;
  job: string;
  key: string;
  at: string;
  sha256: string;
  bytes: ArrayBuffer;
}

type Name = "jobs" | "steps" | "photos" | "page";

let opened: Promise<IDBDatabase> | null = null;

function created(database: IDBDatabase): void {
  database.createObjectStore("jobs", { keyPath: "id" });
  database.createObjectStore("steps", { keyPath: ["job", "step"] });
  database.createObjectStore("photos", { keyPath: "id" }).createIndex("job", "job");
  database.createObjectStore("page");
}

function open(): Promise<IDBDatabase> {
  opened ??= new Promise((resolve, reject) => {
    const request = indexedDB.open("heatside", 1);
    request.onupgradeneeded = () => created(request.result);
    request.onerror = () => reject(request.error ?? new Error("the storage of this browser did not open"));
    request.onsuccess = () => {
      // A later page with another layout must not wait for this tab.
      request.result.onversionchange = () => request.result.close();
      request.result.onclose = () => (opened = null);
      resolve(request.result);
    };
  });
  opened.catch(() => (opened = null));
  return opened;
}

/** What a request gives, once it is there. */
export function got<T>(request: IDBRequest<T>): Promise<T> {
  return new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error ?? new Error("the storage gave no answer"));
  });
}

/** Everything in `work` is kept, or nothing. Resolves when it is on the disk, as far as the browser tells. */
export async function kept<T>(names: Name[], work: (stores: (name: Name) => IDBObjectStore) => Promise<T>): Promise<T> {
  const transaction = (await open()).transaction(names, "readwrite", { durability: "strict" });
  const done = new Promise<void>((resolve, reject) => {
    transaction.oncomplete = () => resolve();
    transaction.onabort = () => reject(transaction.error ?? new Error("nothing was kept"));
  });
  done.catch(() => undefined);
  let result: T;
  try {
    result = await work((name) => transaction.objectStore(name));
  } catch (error) {
    try {
      transaction.abort();
    } catch {
      // It has ended already.
    }
    throw error;
  }
  await done;
  return result;
}

export async function read<T>(name: Name, ask: (store: IDBObjectStore) => IDBRequest<T>): Promise<T> {
  return got(ask((await open()).transaction(name, "readonly").objectStore(name)));
}

export const jobById = (id: string): Promise<KeptJob | undefined> => read("jobs", (store) => store.get(id));
export const allJobs = (): Promise<KeptJob[]> => read("jobs", (store) => store.getAll());

const stepsRange = (job: string): IDBKeyRange => IDBKeyRange.bound([job, 0], [job, Number.MAX_SAFE_INTEGER]);
export const stepsOf = (job: string): Promise<Step[]> => read("steps", (store) => store.getAll(stepsRange(job)));

export const photosOfJob = (job: string): Promise<KeptPhoto[]> =>
  read("photos", (store) => store.index("job").getAll(job));

/** The job that was open last; kept here, because what a browser keeps elsewhere does not survive when it is killed. */
export const lastOpen = (): Promise<string | undefined> => read("page", (store) => store.get("open"));

export const keepLastOpen = (id: string | null): Promise<void> =>
  kept(["page"], async (stores) => void (id ? stores("page").put(id, "open") : stores("page").delete("open")));

/** Takes a job off this device, with its steps and photos. */
export function removeJob(id: string): Promise<void> {
  return kept(["jobs", "steps", "photos"], async (stores) => {
    stores("jobs").delete(id);
    stores("steps").delete(stepsRange(id));
    for (const key of await got(stores("photos").index("job").getAllKeys(id))) stores("photos").delete(key);
  });
}
