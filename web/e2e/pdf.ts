import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from '@playwright/test';

/** One page of a print, as a reader of the file finds it. Lengths are in points, 1/72 inch. */
export interface PrintedPage {
  /** As it is laid out, line by line. */
  text: string;
  /** The same one column after the other. */
  flow: string;
  width: number;
  height: number;
  /** The box around all words. */
  left: number;
  top: number;
  right: number;
  bottom: number;
  /** Sizes of the letters of its titles. */
  sizes: number[];
  /** How far a pixel is from grey at most, of 255. */
  colour: number;
}

/** printed prints the page as Chromium does for people, and reads the file with Debian's poppler-utils. */
export async function printed(page: Page, format: 'A4' | 'Letter'): Promise<PrintedPage[]> {
  const folder = mkdtempSync(join(tmpdir(), 'benchmeet-pdf-'));
  const file = join(folder, 'print.pdf');
  try {
    const pdf = await page.pdf({ format });
    writeFileSync(file, pdf);
    if (process.env['KEEP_PDF']) writeFileSync(join(process.env['KEEP_PDF'], `${nameOf(page)}-${format}.pdf`), pdf);
    const run = (program: string, ...args: string[]) =>
      execFileSync(program, args, { encoding: 'utf8', maxBuffer: 1 << 28, stdio: ['ignore', 'pipe', 'ignore'] });
    const texts = run('pdftotext', '-layout', file, '-').split('\f').slice(0, -1);
    const flows = run('pdftotext', file, '-').split('\f').slice(0, -1);
    const boxes = run('pdftotext', '-bbox', file, '-').split('<page ').slice(1).map(boxOf);
    const sizes = sizesOf(run('pdftohtml', '-xml', '-i', '-zoom', '3', '-stdout', file));
    const pictures = execFileSync('pdftoppm', ['-r', '30', file], { maxBuffer: 1 << 30 });
    const colours = coloursOf(pictures);
    return texts.map((text, i) => ({
      text,
      flow: flows[i]!,
      ...boxes[i]!,
      sizes: sizes[i] ?? [],
      colour: colours[i]!,
    }));
  } finally {
    rmSync(folder, { recursive: true });
  }
}

const nameOf = (page: Page) => new URL(page.url()).pathname.split('/').slice(3).join('-');

function boxOf(xml: string) {
  const number = (name: string, of: string) => Number(new RegExp(`${name}="([\\d.]+)"`).exec(of)![1]);
  const words = xml.split('\n').filter((line) => line.includes('<word '));
  const edge = (name: string) => words.map((word) => number(name, word));
  return {
    width: number('width', xml),
    height: number('height', xml),
    left: Math.min(...edge('xMin')),
    top: Math.min(...edge('yMin')),
    right: Math.max(...edge('xMax')),
    bottom: Math.max(...edge('yMax')),
  };
}

/**
 * sizesOf are the sizes of letters in points, of fonts that are kept whole: of the variable one the reader makes a
 * drawing for each letter and guesses. They show whether a print was shrunk to fit.
 */
function sizesOf(xml: string): number[][] {
  const zoom = 3;
  const fonts = [...xml.matchAll(/<fontspec id="(\d+)" size="(\d+)" family="\w+\+ZillaSlab/g)];
  const size = new Map(fonts.map((m) => [m[1]!, Number(m[2]) / zoom]));
  return xml
    .split('<page ')
    .slice(1)
    .map((page) => [...new Set([...page.matchAll(/<text [^>]*font="(\d+)">/g)].flatMap((m) => size.get(m[1]!) ?? []))]);
}

/** letters are the sizes in points that a page gives its letters on paper: the smallest, and those of titles. */
export async function letters(page: Page): Promise<{ smallest: number; titles: number[] }> {
  await page.emulateMedia({ media: 'print' });
  const found = await page.evaluate(() => {
    const sizes = { all: [] as number[], titles: [] as number[] };
    for (const sheet of document.querySelectorAll('.printed')) {
      const texts = document.createTreeWalker(sheet, NodeFilter.SHOW_TEXT);
      for (let text = texts.nextNode(); text; text = texts.nextNode()) {
        const around = text.parentElement!;
        if (!text.textContent!.trim() || around.closest('.spoken, .screen-only, svg')) continue;
        const style = getComputedStyle(around);
        sizes.all.push(parseFloat(style.fontSize) * 0.75);
        if (style.fontFamily.includes('Zilla')) sizes.titles.push(parseFloat(style.fontSize) * 0.75);
      }
    }
    return sizes;
  });
  await page.emulateMedia({ media: null });
  return { smallest: Math.min(...found.all), titles: found.titles };
}

/** coloursOf reads pictures in the format PPM (netpbm, P6), one behind the other. */
function coloursOf(pictures: Buffer): number[] {
  const out: number[] = [];
  for (let at = 0; at < pictures.length;) {
    const head = /^P6\s+(\d+)\s+(\d+)\s+255\s/.exec(pictures.subarray(at, at + 40).toString('latin1'))!;
    const from = at + head[0].length;
    at = from + Number(head[1]) * Number(head[2]) * 3;
    let most = 0;
    for (let i = from; i < at; i += 3) {
      const [r, g, b] = [pictures[i]!, pictures[i + 1]!, pictures[i + 2]!];
      most = Math.max(most, Math.max(r, g, b) - Math.min(r, g, b));
    }
    out.push(most);
  }
  return out;
}
