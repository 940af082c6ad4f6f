import { outside } from '$lib/ahead/root';

/**
 * openOffline has the browser keep the bench page, so that it opens where the server cannot be reached. Browsers allow
 * it over TLS alone; on plain http this does nothing.
 */
export function openOffline(): void {
  if (location.protocol !== 'https:') return; // this machine's own address would allow it too
  // Where it cannot be kept the page is as it is on plain http.
  void navigator.serviceWorker?.register('/bench-offline.js', { scope: outside('/bench') }).catch(() => {});
}
