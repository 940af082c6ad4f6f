import { basename } from 'node:path';
import type { OutputBundle, OutputChunk } from 'rolldown';
import type { Plugin } from 'vite';

/** The language that a page is built with; the pages of the others are made from its page. */
const first = 'en';

/**
 * early has the HTML of a face name the code that asks the server ahead of all else, as
 * a script of its own that waits for no other, and the texts that its first draw
 * waits for, so that they come together with its scripts and not after them. Every language
 * has its own HTML for that, "bench.de.html": the server hands out that of the reader's.
 */
export const early: Plugin = {
  name: 'early',
  apply: 'build',
  transformIndexHtml: {
    order: 'post',
    handler(_, { bundle, chunk }) {
      if (!bundle || chunk?.type !== 'chunk') return;
      const ahead = Object.values(bundle).find(
        (one) => one.type === 'chunk' && one.moduleIds.some((id) => id.endsWith('/lib/ahead/now.ts')),
      )!;
      return [
        {
          tag: 'script',
          attrs: { type: 'module', async: true, crossorigin: true, src: `/${ahead.fileName}` },
          injectTo: 'head-prepend' as const,
        },
      ];
    },
  },
};

/** languages gives the HTML of every face its texts, and every other language an HTML of its own. */
export const languages: Plugin = {
  name: 'languages',
  apply: 'build',
  enforce: 'post',
  generateBundle: {
    order: 'post',
    handler(_, bundle) {
      const tags = new Set(
        chunksOf(bundle).flatMap((one) =>
          one.moduleIds.flatMap((id) => /\/i18n\/([a-z]{2,3})\/index\.ts$/.exec(id)?.[1] ?? []),
        ),
      );
      for (const entry of chunksOf(bundle)) {
        const name = entry.isEntry && entry.facadeModuleId && basename(entry.facadeModuleId);
        if (!name || !name.endsWith('.html')) continue;
        const page = bundle[name];
        if (page?.type !== 'asset') continue;
        const html = String(page.source);
        const spoken = (tag: string) =>
          html
            .replace('<html lang="en"', `<html lang="${tag}"`)
            .replace('</head>', `${preloads(bundle, entry, tag)}</head>`);
        page.source = spoken(first);
        for (const tag of tags)
          if (tag !== first)
            this.emitFile({ type: 'asset', fileName: name.replace('.html', `.${tag}.html`), source: spoken(tag) });
      }
    },
  },
};

const chunksOf = (bundle: OutputBundle) => Object.values(bundle).filter((one) => one.type === 'chunk');

const preloads = (bundle: OutputBundle, entry: OutputChunk, language: string) =>
  textsOf(bundle, entry, language)
    .map((href) => `<link rel="modulepreload" crossorigin href="/${href}">\n`)
    .join('');

/** textsOf are the files of a language for the sections that a chunk and its static imports have. */
function textsOf(bundle: OutputBundle, entry: OutputChunk, language: string): string[] {
  const chunks = chunksOf(bundle);
  const reached = new Set<OutputChunk>();
  const reach = (one: OutputChunk) => {
    if (reached.has(one)) return;
    reached.add(one);
    for (const name of one.imports) {
      const next = chunks.find((chunk) => chunk.fileName === name);
      if (next) reach(next);
    }
  };
  reach(entry);
  // The module of a section has the name of its file of texts.
  const sections = new Set(
    [...reached].flatMap((one) => one.moduleIds.map((id) => /\/i18n\/([\w-]+)\.ts$/.exec(id)?.[1])),
  );
  const texts = new RegExp(`/i18n/${language}/(?:desk/|screen/)?([\\w-]+)\\.ts$`);
  const wanted = new Set<OutputChunk>();
  for (const chunk of chunks) {
    const held = chunk.moduleIds.map((id) => texts.exec(id)?.[1]);
    if (held.some((of) => of !== undefined && sections.has(of))) wanted.add(chunk);
  }
  const files = new Set<string>();
  const add = (one: OutputChunk) => {
    if (reached.has(one) || files.has(one.fileName)) return;
    files.add(one.fileName);
    for (const name of one.imports) {
      const next = chunks.find((chunk) => chunk.fileName === name);
      if (next) add(next);
    }
  };
  wanted.forEach(add);
  return [...files].sort((a, b) => basename(a).localeCompare(basename(b)));
}
