import { api, ask, type Schema } from '$lib/api';
import { clubTexts } from '$lib/i18n/club';
import { codes } from '$lib/i18n/codes';

type Meet = Pick<Schema['Meet'], 'id' | 'benches' | 'plan'>;

/**
 * KeyMaker makes a volunteer's key for each bench of a meet, for one print: keys are kept as hashes, so those that
 * were made before cannot be printed again. After a failure it goes on behind those that it has.
 */
export class KeyMaker {
  readonly #served = new Set<string>();

  constructor(private readonly made: (key: Schema['NewToken']) => void) {}

  async make(meet: Meet): Promise<void> {
    for (const bench of meet.benches.toSorted((a, b) => a.number - b.number)) {
      if (this.#served.has(bench.id)) continue;
      const body = {
        role: 'volunteer' as const,
        label: clubTexts.labelUsual(codes.role.volunteer, [bench.number]),
        benches: [bench.id],
        meet: meet.id,
        expires: endOf(meet.plan.date),
      };
      this.made(await ask(api.POST('/api/v1/tokens', { body })));
      this.#served.add(bench.id);
    }
  }
}

/** endOf is the end of the race day, by the clock of this machine; of a day that is over, the end of today. */
export function endOf(date: string, now = new Date()): string {
  const end = new Date(`${date}T23:59:59`);
  if (end < now) end.setFullYear(now.getFullYear(), now.getMonth(), now.getDate());
  return end.toISOString();
}
