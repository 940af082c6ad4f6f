import { createContext } from 'svelte';
import { api, ask } from '$lib/api';
import { Reading } from '$lib/reading.svelte';

/** How often the comparison is read: reference runs come by the club's log, of which the meet's feed says nothing. */
const everyMs = 3_000;

/** Comparing is what the page of the benches compared reads. */
export class Comparing {
  readonly comparison;
  readonly cars = new Reading(async () => (await ask(api.GET('/api/v1/cars'))).cars);

  constructor(readonly meet: string) {
    this.comparison = new Reading(() =>
      ask(api.GET('/api/v1/meets/{meet}/bench-comparison', { params: { path: { meet } } })),
    );
  }

  nudge = (): void => {
    this.comparison.nudge();
    this.cars.nudge();
  };

  /** watch keeps the comparison fresh until the function it returns is called. */
  watch = (): (() => void) => {
    const timer = setInterval(() => this.comparison.nudge(), everyMs);
    return () => clearInterval(timer);
  };
}

/** What the page around a component reads. */
export const [getComparing, setComparing] = createContext<Comparing>();
