/** What stands at the foot of every page of a print. */
export const printFoot = {
  sheet: (sheet: string, meet: string, day: string) => `${sheet} · ${meet} · ${day}`,
  page: (code: string) => (code ? `check code ${code} · page ` : 'page '),
  pageOf: ' of ',
};
