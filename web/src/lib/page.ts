import { insist } from './again';
import { fetchTexts, spoken, type Section } from './i18n';

/**
 * page is a page that loads when it is first wanted, together with its texts: give
 * the result to an {#await}. `sections` names texts that the page and its parts
 * import; they would load without being named, but only after the page itself.
 */
export function page<Page>(load: () => Promise<{ default: Page }>, ...sections: Section[]): () => Promise<Page> {
  let coming: Promise<Page> | undefined;
  const fetch = async () => {
    fetchTexts(...sections);
    const loaded = await load();
    await spoken();
    return loaded.default;
  };
  return () =>
    (coming ??= fetch().catch((thrown: unknown) => {
      coming = undefined; // the next visit tries again
      throw thrown;
    }));
}

/** there is whether the server can be reached. */
const there = () =>
  fetch('/icon.svg', { method: 'HEAD', cache: 'no-store' }).then(
    (answer) => answer.ok,
    () => false,
  );

/**
 * part is like page, for a part without which the page goes on: it waits for the
 * network as long as that takes. Browsers keep an import that failed, so it is begun
 * only once the server answers.
 */
export function part<Part>(load: () => Promise<{ default: Part }>, ...sections: Section[]): () => Promise<Part> {
  const once = page(load, ...sections);
  let coming: Promise<Part> | undefined;
  const reach = async (): Promise<Part> => {
    await new Promise<void>((done) => insist(() => there().then((is) => (is && done(), is))));
    return once();
  };
  return () => (coming ??= reach());
}
