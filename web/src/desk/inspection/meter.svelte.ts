/** The instrument that was used last: the same one lies on the table all day. */
export const meter = $state({ name: '' });
