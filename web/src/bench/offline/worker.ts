/**
 * The worker of the bench page: what the page is made of comes from the phone, the page itself from the server while
 * that answers. It never looks at the API: no answer of the server is kept, so none that is shown can be old.
 */

/** The files of the bench page and their sum; the build puts them here, see build/offline.ts. */
declare const __BENCH_FILES__: string[];
declare const __BENCH_VERSION__: string;

/** What the types of a page do not know of a worker. */
interface Lasting extends Event {
  waitUntil(what: Promise<unknown>): void;
}
interface Asking extends Lasting {
  request: Request;
  respondWith(answer: Promise<Response>): void;
}
const worker = globalThis as unknown as { registration: ServiceWorkerRegistration };

const family = 'bench-';
const name = family + __BENCH_VERSION__;
/** The page of the club that this browser keeps it for. */
const page = new URL(worker.registration.scope).pathname;
/** How long the server may take for the page before the one that is kept is shown, in ms. */
const patienceMs = 4_000;

addEventListener('install', (event) => (event as Lasting).waitUntil(fill()));
addEventListener('activate', (event) => (event as Lasting).waitUntil(forget((one) => one !== name)));
addEventListener('fetch', (event) => {
  const { request } = event as Asking;
  const { origin, pathname } = new URL(request.url);
  if (request.method !== 'GET' || origin !== location.origin || /^(\/c\/[^/]+)?\/api\//.test(pathname)) return;
  if (request.mode === 'navigate') (event as Asking).respondWith(open(request));
  else (event as Asking).respondWith(part(request));
});

/** fill keeps everything or nothing: half a page opens no better than none. */
async function fill(): Promise<void> {
  const kept = await caches.open(name);
  await kept.addAll([page, ...__BENCH_FILES__]);
}

/** open gives the page of the server, and the one that is kept where no other comes. */
async function open(request: Request): Promise<Response> {
  const coming = fetch(request).then(async (fresh) => {
    // A server that has no worker gets a phone without one.
    if (fresh.ok && !fresh.headers.has('Benchmeet-Offline')) await leave();
    return fresh;
  });
  const late = new Promise<undefined>((done) => setTimeout(() => done(undefined), patienceMs));
  try {
    const first = await Promise.race([coming, late]);
    return first ?? (await kept(page)) ?? (await coming);
  } catch {
    return (await kept(page)) ?? Response.error();
  }
}

/** part gives a file, whose name holds a sum of it: what is kept is what the server has. */
async function part(request: Request): Promise<Response> {
  return (await kept(new URL(request.url).pathname)) ?? fetch(request);
}

const kept = async (path: string): Promise<Response | undefined> => (await caches.open(name)).match(path);

async function forget(old: (name: string) => boolean): Promise<void> {
  const all = (await caches.keys()).filter((one) => one.startsWith(family) && old(one));
  await Promise.all(all.map((one) => caches.delete(one)));
}

async function leave(): Promise<void> {
  await forget(() => true);
  await worker.registration.unregister();
}

export {};
