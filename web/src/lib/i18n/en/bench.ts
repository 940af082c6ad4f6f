/** Texts of the bench page. */
export const bench = {
  title: 'Bench',
};
