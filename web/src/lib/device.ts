/** What is kept on this device, as text by a name; a browser that keeps nothing forgets it when the page goes. */
export function keep(name: string, text: string): void {
  try {
    localStorage.setItem(name, text);
  } catch {
    // It is so until the page goes.
  }
}

/** kept is what was kept, null where nothing was. */
export function kept(name: string): string | null {
  try {
    return localStorage.getItem(name);
  } catch {
    return null;
  }
}
