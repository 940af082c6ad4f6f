import { basename } from 'node:path';
import type { OutputBundle, OutputChunk } from 'rolldown';
import type { Plugin } from 'vite';

/**
 * early has the HTML of a face name the code that asks the server ahead of all else, as
 * a script of its own that waits for no other, and the HTML of a face name the English texts that its first draw
 * waits for, so that they come together with its scripts and not after them. Who reads another language loads a
 * few kilobytes too much.
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
        ...textsOf(bundle, chunk).map((href) => ({
          tag: 'link',
          attrs: { rel: 'modulepreload', crossorigin: true, href: `/${href}` },
          injectTo: 'head' as const,
        })),
      ];
    },
  },
};

/** textsOf are the files of English for the sections that a chunk and its static imports have. */
function textsOf(bundle: OutputBundle, entry: OutputChunk): string[] {
  const chunks = Object.values(bundle).filter((one) => one.type === 'chunk');
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
  const wanted = new Set<OutputChunk>();
  for (const chunk of chunks) {
    const held = chunk.moduleIds.map((id) => /\/i18n\/en\/(?:desk\/|screen\/)?([\w-]+)\.ts$/.exec(id)?.[1]);
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
