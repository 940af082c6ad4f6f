import { api, ask, type Schema } from '$lib/api';
import { may } from '../may';

/** Moment is a day as it stood at one position of its log, so that one check code speaks for all of a print. */
export interface Moment {
  meet: Schema['Meet'];
  heats: Schema['Heat'][];
  entries: Schema['Entry'][];
  standings: Schema['Standings'][];
  /** Nobody where whoever prints does not see the list of people. */
  people: Schema['Person'][];
  /** The check code's hash; missing where the day went on while it was read, time and again. */
  head: string | undefined;
}

/** How often a day is read again that goes on meanwhile. */
const tries = 5;

/** readMoment reads a day until all of it is of one position. */
export async function readMoment(id: string): Promise<Moment> {
  const path = { meet: id };
  for (let n = 1; ; n++) {
    const [meet, heats, entries, people] = await Promise.all([
      ask(api.GET('/api/v1/meets/{meet}', { params: { path } })),
      ask(api.GET('/api/v1/meets/{meet}/heats', { params: { path } })),
      ask(api.GET('/api/v1/meets/{meet}/entries', { params: { path } })),
      may.enter() ? ask(api.GET('/api/v1/people')) : { people: [] },
    ]);
    const standings = await Promise.all(
      meet.divisions.map(({ id: division }) =>
        ask(
          api.GET('/api/v1/meets/{meet}/divisions/{division}/standings', { params: { path: { meet: id, division } } }),
        ),
      ),
    );
    const one = [heats, entries, ...standings].every(({ seq }) => seq === meet.seq);
    if (one || n === tries)
      return {
        meet,
        heats: heats.heats,
        entries: entries.entries.toSorted((a, b) => a.start_number - b.start_number),
        standings,
        people: people.people,
        head: one ? meet.head : undefined,
      };
  }
}
