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
  type Kind,
  type LanePlace,
} from './order';
export { OrderQueue } from './queue.svelte';
