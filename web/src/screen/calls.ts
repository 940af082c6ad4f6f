import type { Schema } from '$lib/api';

/** callOf names a call of a heat: one that is called again is a new call. */
export const callOf = (heat: Schema['Heat']): string => heat.id + heat.called;
