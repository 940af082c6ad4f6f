/** Texts that explain figures of results. */
export const figures = {
  corrected: {
    sign: 'corrected for its bench',
    read: (m: string) => `read ${m} m`,
    because: (m: string) => `Corrected for its bench, which read ${m} m.`,
    means:
      '† corrected for its bench: divided by what the bench reads over the average of all benches. The sheet of the car shows both values.',
    both: '† corrected for its bench: what the bench read, divided by what it reads over the average of all benches.',
  },
  plusMinusMeans: '± is how far the true distance may lie to either side, in 95 of 100 runs.',
};
