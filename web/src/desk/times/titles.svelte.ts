import type { Schema } from '$lib/api';
import type { Day } from '../day/day.svelte';
import { divisionName, heatTitle } from '../day/names';

/** Titles are what the heats of a day are called on its pages. It reads the list of heats: follow that beside. */
export class Titles {
  readonly #known;
  constructor(private readonly day: Day) {
    this.#known = $derived(new Map((this.day.heats.value ?? []).map((heat) => [heat.id, heat])));
  }

  /** of is the title of a heat, as far as its round is known by name. */
  of(heat: Pick<Schema['PlanHeat'], 'division' | 'stage' | 'round' | 'number' | 'leg' | 'group'>, id?: string): string {
    return heatTitle(this.day.meet, (id === undefined ? undefined : this.#known.get(id)) ?? heat);
  }

  readonly heat = (id: string): string | undefined => {
    const known = this.#known.get(id);
    return known && heatTitle(this.day.meet, known);
  };

  readonly division = (id: string): string => divisionName(this.day.meet, id);
}
