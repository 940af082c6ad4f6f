/** The rules of a race day where a test is about something else. */
export const usualRules = {
  protest_s: 600,
  call_s: 120,
  reruns_per_entry: 2,
  tie: 'next-best',
  did_not_finish: 'keep-distance',
  benches: 'report',
  late: 'no',
  hand_counts: 'ranks',
};
