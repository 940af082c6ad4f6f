import { createHash } from 'node:crypto';
import { fileURLToPath } from 'node:url';
import type { OutputBundle, OutputChunk } from 'rolldown';
import type { Plugin } from 'vite';

const worker = fileURLToPath(new URL('../src/bench/offline/worker.ts', import.meta.url));

/**
 * offline builds the worker that opens the bench page without the server, and puts into it the files of that page: what
 * it loads at once and what it loads later. Texts of desk and screens are no part of it. The version is a sum of the
 * names, which hold sums of the files, and of the page.
 */
export const offline: Plugin = {
  name: 'offline',
  apply: 'build',
  enforce: 'post',
  buildStart() {
    this.emitFile({ type: 'chunk', id: worker, fileName: 'bench-offline.js' });
  },
  generateBundle: {
    order: 'post',
    handler(_, bundle) {
      const files = filesOf(bundle);
      const page = bundle['bench.html'];
      const sum = createHash('sha256').update(JSON.stringify(files));
      if (page?.type === 'asset') sum.update(page.source);
      const script = bundle['bench-offline.js'];
      if (script?.type !== 'chunk' || files.length < 10)
        throw new Error('the worker of the bench page is not complete');
      script.code = script.code
        .replace('__BENCH_FILES__', JSON.stringify(files))
        .replace('__BENCH_VERSION__', JSON.stringify(sum.digest('hex').slice(0, 12)));
    },
  },
};

/** filesOf are the files that the bench page is made of, by their addresses. */
function filesOf(bundle: OutputBundle): string[] {
  const files = new Set<string>();
  const add = (name: string) => {
    if (files.has(name)) return;
    const one = bundle[name];
    if (!one) return;
    if (one.type === 'chunk' && elsewhere(one)) return;
    files.add(name);
    if (one.type === 'asset') {
      // Fonts are named in the styles alone.
      if (/\.css$/.test(name))
        for (const [, font] of String(one.source).matchAll(/url\(\/?(assets\/[^)"']+)\)/g)) add(font!);
      return;
    }
    const more = one as OutputChunk & { viteMetadata?: { importedCss: Set<string>; importedAssets: Set<string> } };
    [...one.imports, ...one.dynamicImports].forEach(add);
    [...(more.viteMetadata?.importedCss ?? []), ...(more.viteMetadata?.importedAssets ?? [])].forEach(add);
  };
  for (const one of Object.values(bundle)) {
    if (one.type !== 'chunk') continue;
    if (one.facadeModuleId?.endsWith('/bench.html') || one.moduleIds.some((id) => id.endsWith('/lib/ahead/now.ts')))
      add(one.fileName);
  }
  return [...files].sort().map((name) => `/${name}`);
}

const elsewhere = (one: OutputChunk) =>
  one.moduleIds.length > 0 &&
  one.moduleIds.every((id) => /\/i18n\/[a-z]+\/(desk|screen)\b|\/i18n\/qaa\/|\/src\/(desk|screen)\//.test(id));
