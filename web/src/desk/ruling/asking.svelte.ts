import { usualReason, type Kind } from './kinds';
import type { Draft } from './draft';

/** About is what a ruling is started from. */
export interface About {
  kinds: Kind[];
  heat?: string | undefined;
  entry?: string | undefined;
  run?: string | undefined;
  reason?: string | undefined;
  counts?: Draft['counts'] | undefined;
}

/**
 * Asking is the one ruling that is being made. It holds a copy of what it is about,
 * so that news from the hall does not change what somebody is typing.
 */
export class Asking {
  open = $state(false);
  about = $state.raw<About>({ kinds: [] });
  draft = $state<Draft>(empty({ kinds: ['void'] }));

  start(about: About): void {
    this.about = about;
    this.draft = empty(about);
    this.open = true;
  }

  /** choose changes the kind, and the reason with it while nobody has chosen another. */
  choose(kind: Kind): void {
    if (this.draft.reason.code === usualReason(this.draft.kind)) this.draft.reason.code = usualReason(kind);
    this.draft.kind = kind;
  }
}

function empty(about: About): Draft {
  const kind = about.kinds[0]!;
  return {
    kind,
    heat: about.heat ?? '',
    entry: about.entry ?? '',
    other: '',
    run: about.run ?? '',
    counts: about.counts ?? 'rerun',
    penalty_m: null,
    distance_m: null,
    u_distance_m: null,
    reason: { code: about.reason ?? usualReason(kind), text: '' },
  };
}
