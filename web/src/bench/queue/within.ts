/** TookTooLong is thrown by within. */
export class TookTooLong extends Error {
  override readonly name = 'TookTooLong';
}

/** within waits for something for so many ms at most: a phone's store may neither open nor fail. */
export function within<T>(ms: number, what: Promise<T>): Promise<T> {
  return new Promise((done, failed) => {
    const timer = setTimeout(() => failed(new TookTooLong()), ms);
    what.then(done, failed).finally(() => clearTimeout(timer));
  });
}
