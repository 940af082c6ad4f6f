import ts from 'typescript';
import { describe, expect, test } from 'vitest';

// What children read is said in words that an eight-year-old knows. Hard words are listed here with better ones; where
// a catalogue says one all the same, its place and why stand here too.

const sources = import.meta.glob<string>(['./en/**/*.ts', './de/**/*.ts'], {
  query: '?raw',
  import: 'default',
  eager: true,
});

/** Catalogues that no child is meant to read, and who is. All others are looked through. */
const forOthers: Record<string, string> = {
  bench: 'volunteers',
  'desk-codes': 'the desk',
  desk: 'the desk, with its folder',
  offer: 'whoever signs in',
  'rule-codes': 'whoever writes the rules',
  'screen/box': 'whoever builds a counter box',
  'screen/trust': 'whoever sets a phone up',
  'sign-in': 'whoever signs in',
  signal: 'whoever mends a sensor',
};

/** Parts of the others that are for somebody older, or name a thing of the trade. */
const older: Record<string, string> = {
  'life.second': 'from 11 on: the mean and the scatter are what it teaches',
  'practice.reference': 'whoever compares the benches',
  'day-codes.drawMethod': 'whoever checks a draw',
};

/** Hard words, as they begin, with better ones. */
const hard: Record<'en' | 'de', Record<string, string>> = {
  en: {
    provisional: 'may still change',
    mean$: 'average',
    median: 'the middle one',
    scatter: 'how far apart',
    deviation: 'how far off',
    uncertain: 'how far off it may be',
    interval: 'between … and …',
    drift: 'changes by itself',
    estimate: 'guess',
    approximate: 'about',
    circumference: 'once around',
    diameter: 'across',
    calibrat: 'put right',
    factor: 'too much or too little',
    nought: 'zero',
    reckon: 'work out',
    figure: 'number',
    stamp: 'what the sensor saw',
    pulse: 'turn that the sensor saw',
    release: 'let go',
    ruling: 'what an official decided',
    upheld: 'was right',
    granted: 'gets',
    grants: 'gives',
    announced: 'said before',
    beforehand: 'before',
    qualify: 'goes on',
    withdrawn: 'races no more',
    withdraw: 'race no more',
    legal: 'allowed',
    conduct: 'behaviour',
    posted: 'shown',
    caution: 'warning',
    entrant: 'child, car',
    telemetry: 'live numbers',
    latency: 'how late',
    sufficient: 'enough',
    subsequent: 'next',
    previous: 'before',
    currently: 'now',
    respective: 'its own',
    duration: 'how long',
    commence: 'begin',
    terminate: 'end',
    require: 'need',
    additional: 'more',
    parameter: 'setting',
    configur: 'set',
    invalid: 'not right',
    initial: 'first',
    obtain: 'get',
    indicat: 'show',
  },
  de: {
    vorläufig: 'kann sich noch ändern',
    durchschnitt: 'im Schnitt',
    mittelwert: 'Schnitt',
    mittel$: 'Schnitt',
    streuung: 'wie weit auseinander',
    abweichung: 'wie weit daneben',
    unsicherheit: 'wie weit es danebenliegen kann',
    intervall: 'zwischen … und …',
    umfang: 'einmal herum',
    durchmesser: 'wie breit',
    spannung: 'wie viel Volt',
    kalibrier: 'berichtigt',
    faktor: 'zu viel oder zu wenig',
    verzögerung: 'wie spät',
    zeitstempel: 'was der Sensor sah',
    veröffentlich: 'gezeigt',
    zurückgezogen: 'fährt nicht mehr mit',
    stattgegeben: 'hatte recht',
    angekündigt: 'vorher gesagt',
    vereinbart: 'abgemacht',
    ausgehängt: 'gezeigt',
    gewähr: 'bekommt',
    beantrag: 'bittet um',
    verhalten$: 'wie sich jemand benahm',
    familiär: 'in der Familie',
    hinweise$: 'Warnungen',
    voraussichtlich: 'etwa',
    gegebenenfalls: 'wenn nötig',
    erforderlich: 'nötig',
    anschließend: 'danach',
    beziehungsweise: 'oder',
    aktuell: 'jetzt',
    ungültig: 'nicht richtig',
    parameter: 'Einstellung',
  },
};

interface Said {
  /** The catalogue and the names that lead to it. */
  place: string;
  words: string[];
}

/** saidIn are the texts of a catalogue, with the words of each in small letters. */
function saidIn(name: string, source: string): Said[] {
  const out: Said[] = [];
  const see = (node: ts.Node, place: string[]): void => {
    if (ts.isImportDeclaration(node) || ts.isExportDeclaration(node) || ts.isTypeNode(node)) return;
    // What a text is chosen by is a code.
    if (ts.isBinaryExpression(node) && /^[=!]==?$/.test(node.operatorToken.getText())) return;
    if (ts.isVariableDeclaration(node) && node.initializer) return see(node.initializer, place);
    if (ts.isPropertyAssignment(node)) {
      const key = ts.isStringLiteral(node.name) ? node.name.text : node.name.getText();
      return see(node.initializer, [...place, key]);
    }
    if (ts.isStringLiteralLike(node) || ts.isTemplateHead(node) || ts.isTemplateMiddleOrTemplateTail(node))
      out.push({ place: place.join('.'), words: node.text.toLowerCase().match(/\p{L}+/gu) ?? [] });
    ts.forEachChild(node, (child) => see(child, place));
  };
  see(ts.createSourceFile(name, source, ts.ScriptTarget.Latest, true), [name]);
  return out;
}

/** is says whether a word is a hard one: it begins with it, or is it where that ends with $. */
const is = (word: string, begins: string) =>
  begins.endsWith('$') ? word === begins.slice(0, -1) : word.startsWith(begins);

/** A catalogue that children read. */
const forChildren = (name: string) => !forOthers[name] && !name.startsWith('desk/');

describe.each(['en', 'de'] as const)('in %s', (language) => {
  const catalogues = Object.entries(sources)
    .filter(([path]) => path.startsWith(`./${language}/`))
    .map(([path, source]) => [path.slice(`./${language}/`.length, -'.ts'.length), source] as const)
    .filter(([name]) => !/^refused|^(index|texts|format|flags|notes|told)/.test(name) && forChildren(name));

  test('children’s pages have texts to look through', () => {
    for (const name of ['afternoon', 'life', 'practice', 'screen', 'screen/car', 'screen/rules', 'run', 'codes'])
      expect(catalogues.map(([one]) => one)).toContain(name);
    const words = catalogues.flatMap(([name, source]) => saidIn(name, source)).flatMap((one) => one.words);
    expect(words.length).toBeGreaterThan(3_000);
  });

  test('no hard word is said where a child reads', () => {
    const found = catalogues
      .flatMap(([name, source]) => saidIn(name, source))
      .filter(({ place }) => !Object.keys(older).some((part) => place === part || place.startsWith(`${part}.`)))
      .flatMap(({ place, words }) =>
        words.flatMap((word) =>
          Object.entries(hard[language])
            .filter(([begins]) => is(word, begins))
            .map(([, better]) => `${place}: “${word}”, better: ${better}`),
        ),
      );
    expect(found).toEqual([]);
  });
});

test('what is left out is there, and has a reason', () => {
  const names = Object.keys(sources).map((path) => path.replace(/^\.\/en\/|\.ts$/g, ''));
  for (const name of Object.keys(forOthers)) expect(names).toContain(name);
  for (const part of Object.keys(older)) {
    const [name] = part.split('.');
    const source = sources[`./en/${name}.ts`]!;
    expect(
      saidIn(name!, source).some(({ place }) => place.startsWith(part)),
      part,
    ).toBe(true);
  }
});
