import type { LanePlace } from './queue';
import type { OnBench } from './scene';

/**
 * Asking is the dialog that is open at the bench, with what it was opened for. It is the
 * page's and not the scene's: a scene goes when its lane goes on, and nobody should lose
 * what is half typed.
 */
export class Asking {
  rerun = $state.raw<{ at: LanePlace; run: string; while: string }>();
  count = $state.raw<{ lane: OnBench; while: string }>();

  shut = (): void => void (this.rerun = this.count = undefined);
}
