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
  /** The same of all but what stands within 17 mm of the edge below: the foot. */
  textBottom: number;
  /** Sizes of the letters of its titles. */
  sizes: number[];
  /** How far a pixel is from grey at most, of 255. */
  colour: number;
  /** How much of the page is darker than half, from 0 to 1. */
  dark: number;
  /** Words that are printed over others. */
  over: string[];
}

/** printed prints the page as Chromium does for people, and reads the file with Debian's poppler-utils. */
export async function printed(page: Page, format: 'A3' | 'A4' | 'Letter', name = nameOf(page)): Promise<PrintedPage[]> {
  const folder = mkdtempSync(join(tmpdir(), 'benchmeet-pdf-'));
  const file = join(folder, 'print.pdf');
  try {
    const pdf = await page.pdf({ format });
    writeFileSync(file, pdf);
    if (process.env['KEEP_PDF']) writeFileSync(join(process.env['KEEP_PDF'], `${name}-${format}.pdf`), pdf);
    const run = (program: string, ...args: string[]) =>
      execFileSync(program, args, { encoding: 'utf8', maxBuffer: 1 << 28, stdio: ['ignore', 'pipe', 'ignore'] });
    const texts = run('pdftotext', '-layout', file, '-').split('\f').slice(0, -1);
    const flows = run('pdftotext', file, '-').split('\f').slice(0, -1);
    const boxes = run('pdftotext', '-bbox', file, '-').split('<page ').slice(1).map(boxOf);
    const sizes = sizesOf(run('pdftohtml', '-xml', '-i', '-zoom', '3', '-stdout', file));
    const pictures = execFileSync('pdftoppm', ['-r', '30', file], { maxBuffer: 1 << 30 });
    const colours = coloursOf(pictures);
    const overs = run('pdftotext', '-bbox', file, '-').split('<page ').slice(1).map(oversOf);
    return texts.map((text, i) => ({
      text,
      flow: flows[i]!,
      ...boxes[i]!,
      sizes: sizes[i] ?? [],
      ...colours[i]!,
      over: overs[i]!,
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
  const height = number('height', xml);
  return {
    width: number('width', xml),
    height,
    left: Math.min(...edge('xMin')),
    top: Math.min(...edge('yMin')),
    right: Math.max(...edge('xMax')),
    bottom: Math.max(...edge('yMax')),
    textBottom: Math.max(...edge('yMax').filter((y) => y < height - 48)),
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
export async function letters(
  page: Page,
  within = '.printed, .sheet',
): Promise<{ smallest: number; titles: number[] }> {
  await page.emulateMedia({ media: 'print' });
  const found = await page.evaluate((within) => {
    const sizes = { all: [] as number[], titles: [] as number[] };
    for (const sheet of document.querySelectorAll(within)) {
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
  }, within);
  await page.emulateMedia({ media: null });
  return { smallest: Math.min(...found.all), titles: found.titles };
}

/** oversOf are the words of a page whose boxes lie over that of another by a third or more. */
function oversOf(xml: string): string[] {
  const words = [
    ...xml.matchAll(/<word xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)">(.*?)<\/word>/g),
  ].map((m) => ({ text: m[5]!, box: m.slice(1, 5).map(Number) as [number, number, number, number] }));
  const area = ([left, top, right, bottom]: readonly number[]) =>
    Math.max(0, right! - left!) * Math.max(0, bottom! - top!);
  return words.flatMap(({ text, box }, i) =>
    words.slice(i + 1).flatMap((other) => {
      const [a, b] = [box, other.box];
      const both = [Math.max(a[0], b[0]), Math.max(a[1], b[1]), Math.min(a[2], b[2]), Math.min(a[3], b[3])];
      const apart = both[2]! <= both[0]! || both[3]! <= both[1]!;
      return !apart && area(both) > Math.min(area(a), area(b)) / 3 ? [`${text} / ${other.text}`] : [];
    }),
  );
}

/** coloursOf reads pictures in the format PPM (netpbm, P6), one behind the other. */
function coloursOf(pictures: Buffer): { colour: number; dark: number }[] {
  const out: { colour: number; dark: number }[] = [];
  for (let at = 0; at < pictures.length;) {
    const head = /^P6\s+(\d+)\s+(\d+)\s+255\s/.exec(pictures.subarray(at, at + 40).toString('latin1'))!;
    const from = at + head[0].length;
    at = from + Number(head[1]) * Number(head[2]) * 3;
    let most = 0;
    let dark = 0;
    for (let i = from; i < at; i += 3) {
      const [r, g, b] = [pictures[i]!, pictures[i + 1]!, pictures[i + 2]!];
      most = Math.max(most, Math.max(r, g, b) - Math.min(r, g, b));
      if (r + g + b < 384) dark++;
    }
    out.push({ colour: most, dark: dark / ((at - from) / 3) });
  }
  return out;
}
