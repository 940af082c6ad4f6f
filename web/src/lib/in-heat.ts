import type { Schema } from '$lib/api';

/** inHeat is the place of a lane in its heat as a place of the day: who wins the race for third place is third. */
export const inHeat = (heat: Pick<Schema['Heat'], 'third_place'>, place: number): number =>
  heat.third_place ? place + 2 : place;
