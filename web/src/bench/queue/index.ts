export {
  armPractice,
  armReference,
  askRerun,
  confirmReady,
  handCount,
  takeReadyBack,
  wantOfficial,
  type Draft,
  type Kept,
  type LanePlace,
} from './order';
export { OrderQueue } from './queue.svelte';
