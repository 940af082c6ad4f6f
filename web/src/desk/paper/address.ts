import { root } from '$lib/ahead/root';
import { api, ask } from '$lib/api';

const local = /^https?:\/\/(localhost|127\.|\[::1\])/;

/** reaches says whether other machines can open an address: it does not name the machine of whoever looks. */
export const reaches = (address: string): boolean => !local.test(address);

/** phoneAddress is where phones in the hall open the server: an address of the network, else the one of this page. */
export async function phoneAddress(): Promise<string> {
  const { addresses } = await ask(api.GET('/api/v1/about'));
  return (addresses.find(reaches) ?? addresses[0] ?? location.origin + root).replace(/\/$/, '');
}
