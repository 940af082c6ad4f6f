export {
  armPractice,
  armReference,
  askRerun,
  confirmReady,
  handCount,
  type Draft,
  type Kept,
  type LanePlace,
} from './order';
export { OrderQueue } from './queue.svelte';
