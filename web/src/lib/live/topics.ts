import type { components } from '$lib/api/schema.gen';

type Schema = components['schemas'];

/**
 * Topic is a thing to listen to. `speed` asks for the live speed of all benches;
 * it comes as frames of `speed/BENCH`.
 */
export type Topic =
  | 'board'
  | 'day-plan'
  | 'meet'
  | 'practice'
  | 'speed'
  | `standings/${string}`
  | `bracket/${string}`
  | `bench/${string}`
  | `car/${string}`
  | `speed/${string}`;

/** TopicData is what the frames of a topic carry. */
export type TopicData<T extends Topic> = T extends 'board'
  ? Schema['Board']
  : T extends 'meet'
    ? Schema['Meet']
    : T extends 'day-plan'
      ? Schema['DayPlan']
      : T extends 'practice'
        ? Schema['PracticeBoard']
        : T extends `standings/${string}`
          ? Schema['Standings']
          : T extends `bracket/${string}`
            ? Schema['Bracket']
            : T extends `bench/${string}`
              ? Schema['BenchOrder']
              : T extends `car/${string}`
                ? Schema['CarDay']
                : T extends `speed/${string}`
                  ? Schema['LiveSpeed']
                  : never;

/** Frame is one message of the feed; each is a topic as a whole. */
export interface Frame {
  topic: Topic;
  seq?: number;
  data: unknown;
}

/** readFrame reads a message, or gives undefined for what is none. */
export function readFrame(text: unknown): Frame | undefined {
  if (typeof text !== 'string') return undefined;
  try {
    const frame: unknown = JSON.parse(text);
    if (typeof frame === 'object' && frame !== null && 'topic' in frame && 'data' in frame) return frame as Frame;
  } catch {
    // not JSON
  }
  return undefined;
}
