/** Texts of the public screen: words that a family understands. */
export const screen = {
  todo: '',
};
