import qrcode from 'qrcode-generator';

/** Light modules around the code; readers need four (ISO/IEC 18004). */
const quiet = 4;

/** Drawing is a QR code as the side of its square and the path of its dark modules. */
export interface Drawing {
  side: number;
  path: string;
}

/** drawing makes the QR code of a text, in the smallest size that it fits with medium error correction. */
export function drawing(text: string): Drawing {
  const code = qrcode(0, 'M');
  code.addData(text);
  code.make();
  const modules = code.getModuleCount();
  let path = '';
  for (let row = 0; row < modules; row++) {
    for (let column = 0; column < modules; column++) {
      if (code.isDark(row, column)) path += `M${column + quiet} ${row + quiet}h1v1h-1z`;
    }
  }
  return { side: modules + 2 * quiet, path };
}
