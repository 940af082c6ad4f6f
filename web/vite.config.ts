import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { brotliCompressSync, constants, gzipSync } from 'node:zlib';
import { svelte } from '@sveltejs/vite-plugin-svelte';
import { svelteTesting } from '@testing-library/svelte/vite';
import type { Plugin } from 'vite';
import { defineConfig } from 'vitest/config';
import { early, languages } from './build/early.ts';
import { fonts } from './build/fonts.ts';
import { offline } from './build/offline.ts';

const here = (path: string) => fileURLToPath(new URL(path, import.meta.url));

// Vite would empty dist, and with it the placeholder page that is committed there
// so that the Go binary builds without Node. Only what a build makes goes.
const cleanAssets: Plugin = {
  name: 'clean-assets',
  apply: 'build',
  // After everything was made and before it is written: a build that fails leaves the last one whole.
  generateBundle: () => rmSync(here('./dist/assets'), { recursive: true, force: true }),
};

// Scripts, styles and pages are packed once here and not at each request; the
// server hands out the copy that a browser takes. Fonts are packed already.
const packed: Plugin = {
  name: 'packed',
  apply: 'build',
  writeBundle({ dir = '' }, bundle) {
    for (const file of Object.keys(bundle)) {
      if (!/\.(js|css|html|svg|json|webmanifest)$/.test(file)) continue;
      const plain = readFileSync(join(dir, file));
      writeFileSync(join(dir, `${file}.gz`), gzipSync(plain, { level: 9 }));
      const params = { [constants.BROTLI_PARAM_QUALITY]: 11, [constants.BROTLI_PARAM_SIZE_HINT]: plain.length };
      writeFileSync(join(dir, `${file}.br`), brotliCompressSync(plain, { params }));
    }
  },
};

// The server gives every address to one of the three faces by its first part;
// "npm run dev" does the same.
const faces: Plugin = {
  name: 'faces',
  apply: 'serve',
  configureServer(server) {
    server.middlewares.use((request, _, next) => {
      const [path = '/', query] = (request.url ?? '/').split('?');
      if (!/^\/(api|src|@|node_modules)|\.\w+$/.test(path)) {
        const face = /^\/(desk|bench)(\/|$)/.exec(path)?.[1] ?? 'screen';
        request.url = `/${face}.html${query === undefined ? '' : `?${query}`}`;
      }
      next();
    });
  },
};

const server = process.env['BENCHMEET_URL'] ?? 'http://127.0.0.1:8080';

export default defineConfig({
  plugins: [
    svelte(),
    svelteTesting(),
    cleanAssets,
    packed,
    faces,
    early,
    languages,
    offline,
    fonts(here('./.fonts'), [here('./src'), here('../domain/refusal/english.go')]),
  ],
  resolve: { alias: { $lib: here('./src/lib'), $fonts: here('./.fonts') } },
  build: {
    outDir: 'dist',
    emptyOutDir: false,
    // What every page has is there already, and who needs nothing else needs no list: it would be longer than the
    // import.
    modulePreload: {
      polyfill: false,
      resolveDependencies: (file, needed, { hostType }) => {
        const others = needed.filter((one) => hostType === 'html' || !/\/(ahead|core|rolldown-runtime)-/.test(one));
        return others.length > 1 || others[0] !== file ? others : [];
      },
    },
    // The content security policy allows no data: fonts, so nothing is inlined.
    assetsInlineLimit: 0,
    rollupOptions: {
      input: { desk: here('./desk.html'), bench: here('./bench.html'), screen: here('./screen.html') },
      // Small parts that most pages have come in one file each, because every file costs a phone a way to
      // the server and back.
      output: {
        codeSplitting: {
          groups: [
            { name: 'ahead', priority: 4, test: /src\/lib\/ahead\//, includeDependenciesRecursively: false },
            {
              name: 'core',
              priority: 2,
              test: /node_modules\/(svelte|esm-env|clsx)\/|src\/lib\/(SignInOffer|ui\/(Button|CutOff|Notice|Numeral|Plate|Racer|SkipLink|Whole|bench)|look|device|in-heat|api|live|page|start|session|route|NotLoaded|again|base|reading)|src\/lib\/i18n\/(index|codes|choice|languages|section|sources|format|en\/(index|shared|format|codes))\.ts|vite\/(preload|modulepreload)|rolldown\/runtime/,
              includeDependenciesRecursively: false,
            },
            // What desk and screens share and the first page of a bench does without.
            {
              name: 'names',
              priority: 2,
              test: /src\/lib\/((names|minutes)\.ts|bracket\/cross\.ts|standing\/parts\.ts|ui\/LookKey)|i18n\/((en\/)?(heats|figures|day-codes)|offered)\.ts/,
              includeDependenciesRecursively: false,
            },
            // Forms: neither the wall nor the first page of a bench has one.
            {
              name: 'fields',
              priority: 2,
              test: /src\/lib\/ui\/(Field|mistakes|to-wrong)/,
              includeDependenciesRecursively: false,
            },
            {
              name: 'desk-parts',
              priority: 1,
              test: /src\/desk\/(fields|day)\/|src\/desk\/(Page|Section|Tabs)\.svelte/,
              includeDependenciesRecursively: false,
            },
          ],
        },
      },
    },
  },
  // "npm run dev" serves the pages and hands the API on to a running server.
  server: { proxy: { '/api': { target: server, ws: true, changeOrigin: false } } },
  test: {
    environment: 'jsdom',
    include: ['src/**/*.test.ts'],
    setupFiles: ['./test/setup.ts'],
    restoreMocks: true,
  },
});
