/**
 * The path before all paths of a club that shares the server's host, such as `/c/harbour`; empty where a club has the
 * host for itself. All else in the pages is written as if it were empty.
 */
export const root = /^\/c\/[^/]+/.exec(location.pathname)?.[0] ?? '';

/** within says whether a path is the club's own. */
export const within = (path: string): boolean => path === root || path.startsWith(`${root}/`);

/** inside is a path of the address bar as the pages know it. */
export const inside = (path: string): string => (within(path) ? path.slice(root.length) || '/' : path);

/** outside is a path of the pages as the address bar and the server know it. */
export const outside = (path: string): string => (within(path) ? path : root + path);

/** ours names what this browser keeps for one club: all that share a host keep it in one place. */
export const ours = (name: string): string => name + root;
