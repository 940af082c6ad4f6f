/**
 * openOffline has the browser keep the bench page, so that it opens where the server cannot be reached. Browsers allow
 * it over TLS alone; on plain http this does nothing.
 */
export function openOffline(): void {
  // Where it cannot be kept the page is as it is on plain http.
  void navigator.serviceWorker?.register('/bench-offline.js', { scope: '/bench' }).catch(() => {});
}
