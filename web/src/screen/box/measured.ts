/** What is measured of the counter box's program: a test in deploy/counterbox holds these to what it finds. */
export const measured = {
  /** Two stamps lie as far apart as their edges within so many µs. */
  apartUs: 27,
  /** Mark and gap are each longer than so many µs, or they are not stamped. */
  pulseUs: 28,
  /** The fastest roller, in turns a minute. */
  quickest: 25_000,
  /** How full four such rollers make the quickest line at most, in per cent, with one mark and with four. */
  fullOneMark: 11,
  fullFourMarks: 40,
};
