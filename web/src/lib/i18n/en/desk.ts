/** Texts of the desk. */
export const desk = {
  title: 'Desk',
};
