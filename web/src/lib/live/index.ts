export { serverClock } from './clock.svelte';
export { Feed, meetFeed, practiceFeed, type FeedState } from './feed.svelte';
export type { Topic, TopicData } from './topics';
