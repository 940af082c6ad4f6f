// What is used of subset-font, which brings no types.
declare module 'subset-font' {
  interface Choices {
    targetFormat: 'woff2';
    keepFeatures?: string[];
    noHinting?: boolean;
    variationAxes?: Record<string, { min: number; max: number }>;
  }
  export default function subsetFont(font: Buffer, text: string, choices: Choices): Promise<Buffer>;
}
