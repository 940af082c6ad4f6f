import { keep, kept } from '$lib/device';

/** A child's sheet is there for 6 to 10, and for 11 to 16. */
export type EditionName = 'young' | 'older';

const place = 'benchmeet-edition';
const isEdition = (text: string | null): text is EditionName => text === 'young' || text === 'older';

/** The oldest who gets the sheet in large print where nobody has chosen. */
const youngTo = 10;

/**
 * Edition is which of the two sheets is shown: as the address says (?for=young, for a pile of prints), else as was
 * chosen on this device, else as the ages of the division are. What the address says is kept too.
 */
export class Edition {
  #chosen = $state<EditionName>();

  /** `ageTo`: the highest age of the car's division, 0 or nothing where it has none. */
  constructor(private readonly ageTo: () => number | undefined) {
    const said = new URLSearchParams(location.search).get('for');
    if (isEdition(said)) this.choose(said);
    else {
      const before = kept(place);
      if (isEdition(before)) this.#chosen = before;
    }
  }

  get now(): EditionName {
    const age = this.ageTo();
    return this.#chosen ?? (age && age <= youngTo ? 'young' : 'older');
  }

  choose(edition: EditionName): void {
    this.#chosen = edition;
    keep(place, edition);
  }
}
