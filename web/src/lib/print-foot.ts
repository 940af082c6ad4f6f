import './print-inks.css';

/** Room around the text of a page, in mm: printers leave a rim of 5, and the foot has two lines. */
const margins = '12mm 13mm 17mm';

const quoted = (text: string) => `"${text.replaceAll('\\', '\\\\').replaceAll('"', '\\"').replaceAll(/\s+/g, ' ')}"`;

/** Foot is what stands at the foot of a page: its number comes after `before`, that of all pages after `between`. */
export interface Foot {
  sheet: string;
  before: string;
  between: string;
  /** How large its letters are, in points; 9 where nothing is said. */
  points?: number;
}

/**
 * footOf are the rules for the pages of one sheet, of all pages where `page` is empty (CSS Paged Media Level 3,
 * margin boxes): at the left what the sheet is, at the right the check code and the number of the page. Without `says`
 * the pages have no foot. Browsers that know no margin boxes print the head of the sheet alone, which says the same.
 */
export function footOf(page: string, says: Foot | undefined): string {
  if (!says) return `@page ${page} { margin: ${margins} }`;
  const font = `font: ${says.points ?? 9}pt/1.25 "Atkinson Hyperlegible Next", Verdana, sans-serif; padding-top: 2mm; vertical-align: top`;
  return `@page ${page} {
    margin: ${margins};
    @bottom-left { content: ${quoted(says.sheet)}; width: 58%; text-align: left; ${font} }
    @bottom-right { content: ${quoted(says.before)} counter(page) ${quoted(says.between)} counter(pages); width: 42%; text-align: right; ${font} }
  }`;
}
