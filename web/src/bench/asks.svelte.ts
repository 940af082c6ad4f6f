import { ours } from '$lib/ahead/root';
import type { Schema } from '$lib/api';
import type { LanePlace } from './queue';

/** Ask is a request for a re-run that this phone made or saw. */
export interface Ask extends LanePlace {
  /** The run that it is about. */
  run: string;
  /** Whether the server showed it, so that its going means an answer. */
  seen: boolean;
}

/** Answer is how an official answered. */
export type Answer = 'unsent' | 'waiting' | 'granted' | 'stands';

/** Where asks are kept: they have to outlive a reload, and hold nothing secret. */
const place = ours('benchmeet-asks');
const most = 20;

/** AsksHere is what the pages of a lane need of Asks. */
export type AsksHere = Pick<Asks, 'list' | 'add'>;

/** Asks remembers requests for re-runs, so that the page can show how they were answered. */
export class Asks {
  list = $state.raw<Ask[]>(read());

  add(ask: Ask): void {
    this.#set([...this.list.filter((one) => !same(one, ask)), ask].slice(-most));
  }

  forget(ask: LanePlace): void {
    this.#set(this.list.filter((one) => !same(one, ask)));
  }

  /** see notes that the server has the request. */
  see(ask: LanePlace): void {
    if (this.list.some((one) => same(one, ask) && !one.seen)) {
      this.#set(this.list.map((one) => (same(one, ask) ? { ...one, seen: true } : one)));
    }
  }

  /** seeBoard takes up what the call board shows of this bench: other phones ask too. */
  seeBoard(meet: string, bench: string, board: Schema['Board']): void {
    for (const heat of [...board.racing, ...board.called, ...board.next, ...board.posted]) {
      for (const lane of heat.lanes) {
        if (lane.bench !== bench || lane.rerun_asked === undefined) continue;
        const at = { meet, heat: heat.id, bench, entry: lane.racer.entry, number: lane.racer.start_number };
        if (this.list.some((one) => same(one, at))) this.see(at);
        else this.add({ ...at, run: lane.run ?? lane.armed ?? '', seen: true });
      }
    }
  }

  #set(list: Ask[]): void {
    this.list = list;
    try {
      localStorage.setItem(place, JSON.stringify(list));
    } catch {
      // A browser that keeps nothing: it is remembered until the page goes.
    }
  }
}

const same = (a: LanePlace, b: LanePlace) => a.meet === b.meet && a.heat === b.heat && a.entry === b.entry;

function read(): Ask[] {
  try {
    const list: unknown = JSON.parse(localStorage.getItem(place) ?? '[]');
    return Array.isArray(list) ? (list as Ask[]) : [];
  } catch {
    return [];
  }
}

/**
 * answerTo tells from the call board how a request was answered: a lane that waits
 * or has another run was granted one; a request that is gone otherwise was turned
 * down, or the result became official.
 */
export function answerTo(ask: Ask, board: Schema['Board'] | undefined, unsent: boolean): Answer {
  if (unsent) return 'unsent';
  if (!board) return 'waiting';
  const heat = [...board.racing, ...board.called, ...board.next, ...board.posted].find((one) => one.id === ask.heat);
  const lane = heat?.lanes.find((one) => one.racer.entry === ask.entry);
  if (lane?.rerun_asked !== undefined || !ask.seen) return 'waiting';
  if (!lane) return 'stands';
  const run = lane.run ?? lane.armed;
  return lane.state === 'waiting' || (run !== undefined && !run.startsWith(ask.run)) ? 'granted' : 'stands';
}
