/**
 * Awake keeps the screen on while the page is seen, where the browser lets it: only
 * behind TLS. Give `keep` to an effect.
 */
export class Awake {
  on = $state(false);

  keep = (): (() => void) => {
    let lock: WakeLockSentinel | undefined;
    let over = false;
    const ask = async () => {
      if (document.visibilityState !== 'visible' || !('wakeLock' in navigator)) return;
      try {
        lock = await navigator.wakeLock.request('screen');
        // Taken away when the page is left, or by a phone that is nearly empty.
        lock.addEventListener('release', () => (this.on = false));
        if (over) void lock.release();
        else this.on = true;
      } catch {
        this.on = false;
      }
    };
    void ask();
    document.addEventListener('visibilitychange', ask);
    return () => {
      over = true;
      document.removeEventListener('visibilitychange', ask);
      void lock?.release();
    };
  };
}
