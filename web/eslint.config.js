import js from '@eslint/js';
import svelte from 'eslint-plugin-svelte';
import globals from 'globals';
import { defineConfig } from 'eslint/config';
import ts from 'typescript-eslint';
import svelteConfig from './svelte.config.js';

// The recommended rules of ESLint, typescript-eslint and its Svelte plugin, without what Prettier does. Each deviation
// has its reason. What types tell is checked by svelte-check and tsc (npm run check).
export default defineConfig(
  { ignores: ['dist/', '.fonts/', 'src/lib/api/schema.gen.ts', 'screenshots/', 'test-results/'] },
  js.configs.recommended,
  ts.configs.recommended,
  svelte.configs.recommended,
  svelte.configs.prettier,
  {
    languageOptions: { globals: { ...globals.browser, ...globals.node } },
    linterOptions: { reportUnusedDisableDirectives: 'error' },
    rules: {
      eqeqeq: 'error',
      // What Prettier cannot break is broken by hand; a sentence for readers stays in one piece.
      'max-len': [
        'error',
        { code: 120, ignoreStrings: true, ignoreTemplateLiterals: true, ignoreRegExpLiterals: true },
      ],
      // A name that begins with an underscore is there for its place alone.
      '@typescript-eslint/no-unused-vars': [
        'error',
        { argsIgnorePattern: '^_', varsIgnorePattern: '^_', destructuredArrayIgnorePattern: '^_' },
      ],
      // A text for readers may hold a blank that does not break.
      'no-irregular-whitespace': ['error', { skipStrings: true, skipTemplates: true }],
      // State of ours is raw and replaced as a whole; what is changed in place (keys of orders, a list under way) is
      // read by no component.
      'svelte/prefer-svelte-reactivity': 'off',
      // {' '} is a blank before a part that may be missing: Svelte drops the one that stands at the end of a line.
      'svelte/no-useless-mustaches': 'off',
    },
  },
  {
    files: ['**/*.svelte', '**/*.svelte.ts'],
    languageOptions: { parserOptions: { parser: ts.parser, extraFileExtensions: ['.svelte'], svelteConfig } },
  },
  // Pages say what they have to say to people, not to a console.
  { files: ['src/**'], ignores: ['**/*.test.ts'], rules: { 'no-console': 'error' } },
);
