const api = '/api/v1';

/**
 * wanted are the addresses of the API that the first draw of a page waits for. Those
 * that only a signed-in browser may read are left out while a key has still to be
 * exchanged: who asks too early gets a no.
 */
export function wanted(path: string, entering: boolean): string[] {
  const [face, first, second, ...more] = path.split('/').filter(Boolean);
  if (face === 'm' && first) return [...of(first), ...(second ? [] : [`${api}/meets/${first}/board`]), `${api}/about`];
  if (face === 'bench')
    return [
      `${api}/session`,
      `${api}/about`,
      ...(entering ? [] : [`${api}/benches`, ...(first && !second ? [`${api}/benches/${first}/order`] : [])]),
    ];
  if (face === 'desk')
    return [`${api}/session`, `${api}/about`, ...(first === 'm' && second && more.length < 3 ? of(second) : [])];
  return [];
}

const of = (meet: string) => [`${api}/meets/${meet}`];
