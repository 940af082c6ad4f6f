const firstWaitMs = 500;
/** How long what nobody waits for may wait between two tries, in ms. */
const longestWaitMs = 15_000;
/** The same where somebody looks at a page that is not there yet. */
export const lookedAtMs = 4_000;

/**
 * backoff is how long to wait before the nth further try in a row, in ms: doubling up to
 * `longest`, and half of it by chance, so that a hall full of phones does not come back
 * at one moment. It is the one policy for whatever is tried again.
 */
export function backoff(tries: number, random: number = Math.random(), longest = longestWaitMs): number {
  const most = Math.min(longest, firstWaitMs * 2 ** Math.min(tries, 10));
  return most / 2 + (most / 2) * random;
}

/**
 * insist does a thing for a page that somebody looks at until it says that it is done, or the function that it
 * returns is called. It tries at once when the network comes back.
 */
export function insist(what: () => Promise<boolean>): () => void {
  let tries = 0;
  let over = false;
  let timer: ReturnType<typeof setTimeout>;
  let trying = false;
  const stop = () => {
    over = true;
    clearTimeout(timer);
    globalThis.removeEventListener?.('online', back);
  };
  const attempt = async () => {
    trying = true;
    const done = await what().catch(() => false);
    trying = false;
    if (done) stop();
    else if (!over) timer = setTimeout(() => void attempt(), backoff(tries++, Math.random(), lookedAtMs));
  };
  function back() {
    if (trying || over) return;
    clearTimeout(timer);
    tries = 0;
    void attempt();
  }
  globalThis.addEventListener?.('online', back);
  void attempt();
  return stop;
}
