import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import subsetFont from 'subset-font';
import type { Plugin } from 'vite';
import { both, readRange, textOf, without, writeRange, type CodePoints } from './code-points.ts';

/** Face is one font file of a package and how it is used. */
interface Face {
  family: string;
  weight: string;
  package: string;
  /** The file's name around the part of the alphabet that it holds. */
  file: (part: string) => string;
  axes?: Record<string, { min: number; max: number }>;
}

/** All carry the SIL Open Font License, which allows parts of them under no reserved name. */
const faces: Face[] = [
  {
    // Running text: drawn for readers with low vision. Weights 400 to 700 are what the pages use.
    family: 'Atkinson Hyperlegible Next',
    weight: '400 700',
    package: '@fontsource-variable/atkinson-hyperlegible-next',
    file: (part) => `atkinson-hyperlegible-next-${part}-wght-normal`,
    axes: { wght: { min: 400, max: 700 } },
  },
  // Titles: the slab of a printed programme.
  {
    family: 'Zilla Slab',
    weight: '700',
    package: '@fontsource/zilla-slab',
    file: (part) => `zilla-slab-${part}-700-normal`,
  },
  // Numerals, plates and small labels: after number plates.
  ...[600, 700].map((weight) => ({
    family: 'Barlow Condensed',
    weight: `${weight}`,
    package: '@fontsource/barlow-condensed',
    file: (part: string) => `barlow-condensed-${part}-${weight}-normal`,
  })),
];

/** What the pages use of the fonts' fine points: spacing, ligatures, numerals of one width, accents in their place. */
const features = ['kern', 'liga', 'tnum', 'mark', 'mkmk', 'ccmp', 'locl'];

/**
 * fonts cuts the fonts into what our own words need, which every page loads, and the
 * rest of Latin, which a browser fetches once a name needs it. It writes them with
 * their fonts.css into `folder` before anything is built or served. `texts` are the
 * folders and files whose words are ours.
 */
export function fonts(folder: string, texts: string[]): Plugin {
  return {
    name: 'fonts',
    apply: () => process.env['VITEST'] === undefined,
    async buildStart() {
      mkdirSync(folder, { recursive: true });
      const ours = wordsOf(texts);
      const rules = await Promise.all(faces.map((face) => cut(face, ours, folder)));
      writeFileSync(join(folder, 'fonts.css'), rules.flat().join('\n'));
    },
  };
}

/** wordsOf are the characters of all texts, and all of ASCII for names and numbers. */
export function wordsOf(paths: string[]): CodePoints {
  const points = new Set(readRange('U+0020-007E'));
  const add = (text: string) => [...text].forEach((character) => points.add(character.codePointAt(0)!));
  for (const path of paths) {
    if (/\.(ts|svelte|go)$/.test(path)) add(readFileSync(path, 'utf8'));
    else
      for (const name of readdirSync(path, { recursive: true, encoding: 'utf8' }))
        if (/(?<!\.test|\.gen)\.(ts|svelte)$/.test(name)) add(readFileSync(join(path, name), 'utf8'));
  }
  return points;
}

/** cut writes the parts of one face and gives their rules. */
async function cut(face: Face, ours: CodePoints, folder: string): Promise<string[]> {
  const require = createRequire(import.meta.url);
  const ranges = JSON.parse(readFileSync(require.resolve(`${face.package}/unicode.json`), 'utf8')) as Record<
    'latin' | 'latin-ext',
    string
  >;
  const extended = readRange(ranges['latin-ext']);
  const held = { 'latin-ext': extended, latin: without(readRange(ranges.latin), extended) };
  const rules: string[] = [];
  for (const [part, points] of Object.entries(held)) {
    const whole = readFileSync(require.resolve(`${face.package}/files/${face.file(part)}.woff2`));
    // Of two rules with the same character the later one holds, so that the first need not leave any out.
    for (const [name, wanted, range] of [
      ['names', without(points, ours), points],
      ['ours', both(points, ours), both(points, ours)],
    ] as const) {
      const file = `${face.file(`${part}-${name}`)}.woff2`;
      // Without hints: they are a third of a file, and screens of today draw by grey levels.
      const made = await subsetFont(whole, textOf(wanted), {
        targetFormat: 'woff2',
        keepFeatures: features,
        noHinting: true,
        ...(face.axes && { variationAxes: face.axes }),
      });
      writeFileSync(join(folder, file), made);
      rules.push(ruleOf(face, file, range));
    }
  }
  return rules;
}

const ruleOf = (face: Face, file: string, points: CodePoints) => `@font-face {
  font-family: '${face.family}';
  font-weight: ${face.weight};
  font-display: swap;
  src: url('./${file}') format('woff2');
  unicode-range: ${writeRange(points)};
}
`;
