/** plain is an address as people type it. */
export const plain = (address: string): string => address.replace(/^https?:\/\//, '').replace(/\/$/, '');

/** forPhones is the address to give to others: this page's own, unless it names only this machine. */
export function forPhones(origin: string, addresses: readonly string[]): string | undefined {
  const local = /^https?:\/\/(localhost|127\.|\[::1\])/;
  const address = local.test(origin) ? addresses.find((a) => !local.test(a)) : origin;
  return address && plain(address);
}
