/** A page that nobody sees is never painted, but may be printed. */
const unseenMs = 500;

/** painted waits until what the page is now has been painted: what nobody sees at first can be made then. */
export const painted = (): Promise<void> =>
  new Promise((done) => {
    const unseen = setTimeout(done, unseenMs);
    requestAnimationFrame(() => {
      clearTimeout(unseen);
      setTimeout(done);
    });
  });
