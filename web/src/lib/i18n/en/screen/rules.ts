import type { components } from '$lib/api/schema.gen';
import { dayCodes } from '../day-codes';
import { format as f } from '../format';
import { ruleCodes } from '../rule-codes';

type Schema = components['schemas'];
type Rules = Schema['Rules'];

/** A time as one says it: whole hours or minutes from two on, else seconds. */
const time = (s: number) =>
  s >= 7200 && s % 3600 === 0
    ? f.plural(s / 3600, { one: '# hour', other: '# hours' })
    : s >= 120 && s % 60 === 0
      ? f.plural(s / 60, { one: '# minute', other: '# minutes' })
      : f.plural(Math.round(s), { one: '# second', other: '# seconds' });

/** A range as one says it; 0 is no bound. */
const span = (s: Schema['Span']) =>
  !s.min
    ? `at most ${f.amount(s.max)}`
    : !s.max
      ? `at least ${f.amount(s.min)}`
      : `${f.amount(s.min)} to ${f.amount(s.max)}`;

/** The rules of the day on one sheet, in whole sentences. */
export const rules = {
  title: 'Rules of the day',
  seen: 'What was agreed before the first heat. It is the same for everybody.',
  noDivisions: 'The divisions are not planned yet.',

  who: (d: Schema['Division']) =>
    d.age_to
      ? `For ages ${f.number(d.age_from)} to ${f.number(d.age_to)}; younger ones may race up.`
      : `For ages ${f.number(d.age_from)} and older; younger ones may race up.`,
  car: (c: Schema['CarClass']) =>
    [
      `Cars: ${c.name}`,
      c.cells ? f.plural(c.cells, { one: '# cell', other: '# cells' }) : '',
      c.wheel_mm ? `wheels of ${f.amount(c.wheel_mm)} mm` : '',
      c.mass_max_g ? `at most ${f.number(c.mass_max_g)} g` : '',
    ]
      .filter(Boolean)
      .join(', ') + '.',
  lap: (m: number) => `A lap is ${f.amount(m)} m.`,
  release: (how: string) => `Start: ${/[.!?]$/.test(how) ? how : `${how}.`}`,
  lateHere: (l: Rules['late']): string =>
    l === 'no' ? 'nobody may enter after the draw' : 'who comes late races from the next round on',
  stage: (s: Schema['StageBody'], first: boolean) =>
    [
      dayCodes.stageKind[s.kind] + (first || !s.entries ? '' : ` of the best ${f.number(s.entries)}`),
      s.rounds ? f.plural(s.rounds, { one: '# round', other: '# rounds' }) : '',
      `each run lasts ${time(s.race_s)}`,
      `up to ${f.plural(s.lanes, { one: '# car', other: '# cars' })} in a heat`,
      s.rule ? `the ${dayCodes.timedRule[s.rule]}` : '',
      s.late ? rules.lateHere(s.late) : '',
      s.third_place ? 'with a race for third place' : '',
      s.legs === 2 ? 'each heat in two legs with the benches changed, and a decider where they leave it level' : '',
      s.cycles === 2 ? 'each meets each twice' : '',
      s.lane_design ? 'lanes and meetings shared out evenly' : '',
      s.b_final ? 'with a B-final' : '',
      s.plate ? 'who is beaten at once goes on in a plate' : '',
      s.advance
        ? `${f.plural(s.advance, { one: 'the first', other: 'the first #' })} of each heat go on${s.next_best ? `, and the next best ${f.number(s.next_best)}` : ''}`
        : '',
      s.groups ? f.plural(s.groups, { one: '# group', other: '# groups' }) : '',
    ]
      .filter(Boolean)
      .join(', ') + '.',

  battery: (w: Schema['BatteryWindow']) =>
    [
      `Batteries: ${f.plural(w.cells, { one: '# cell', other: '# cells' })}, ${ruleCodes.chemistry[w.chemistry].toLowerCase()}`,
      `${span(w.open_v)} V at rest`,
      w.load_v ? `${span(w.load_v)} V while it works` : '',
      w.valid_s ? `a check counts for ${time(w.valid_s)}` : '',
      w.rest_s ? `${time(w.rest_s)} of rest between two runs` : '',
    ]
      .filter(Boolean)
      .join(', ') + '.',
  checklist: (items: Schema['CheckItem'][]) =>
    `Checked before racing: ${items.map((i) => (i.unit && (i.min || i.max) ? `${i.name}: ${span({ min: i.min ?? 0, max: i.max ?? 0 })} ${i.unit}` : i.name)).join('; ')}.`,
  gate: {
    battery: {
      off: '',
      warn: 'A battery that was not checked is pointed out at the bench.',
      hold: 'A battery that was not checked does not race: go to the inspector’s table before the heat.',
    },
    inspection: {
      off: '',
      warn: 'A car that was not inspected is pointed out at the bench.',
      hold: 'A car that was not inspected does not race: go to the inspector’s table before the heat.',
    },
  } satisfies Record<string, Record<Schema['GateRule'], string>>,
  results: 'Results',
  provisional: (r: Rules) =>
    r.protest_s > 0
      ? `A result may change for ${time(r.protest_s)} after it is shown: so long you can protest. After that it is official, and only a numbered correction changes it.`
      : 'A result is official as soon as its round is closed.',
  tie: {
    shared: 'Who is equal at a prize or at the last place that goes on shares it: 1, 1, 3.',
    'next-best': 'Who is equal at a prize or at the last place that goes on is parted by the next-best run.',
    decider: 'Who is equal at a prize or at the last place that goes on races again.',
  } satisfies Record<Rules['tie'], string>,
  close:
    'Two at a prize or at the last place that goes on, whose results are too close to call, race a decider, once. The results stay; the decider orders the two.',
  didNotFinish: {
    'keep-distance': 'A car that stops before the end keeps the distance that it has.',
    'no-result': 'A car that stops before the end has no result in that heat.',
  } satisfies Record<Rules['did_not_finish'], string>,
  handCounts: {
    ranks: 'A result that was counted by hand is marked, and ranks.',
    shown: 'A result that was counted by hand is marked, and does not rank.',
  } satisfies Record<Rules['hand_counts'], string>,
  uncertain: 'Every number has a ±: the true one lies within it 95 times in 100.',

  there: 'Being there',
  call: (r: Rules) =>
    r.call_s > 0
      ? `After the call a car has ${time(r.call_s)} to stand at its bench. After that an official may decide that it did not start.`
      : 'A car that is called goes to its bench at once.',
  late: {
    no: 'After the draw nobody can enter.',
    'next-round': 'Who comes late races from the next timed round on; what was missed stays empty.',
  } satisfies Record<Rules['late'], string>,
  reruns: (r: Rules) =>
    r.reruns_per_entry > 0
      ? `A car may get ${f.plural(r.reruns_per_entry, { one: '# re-run', other: '# re-runs' })} in the whole day. An official gives it, with name and reason.`
      : 'There are no re-runs, but a tie that has to be decided is raced again.',

  together: (host: string) => `Races together with ${host}, by its programme, with places of its own.`,
  promised: (n: number) =>
    `Everybody who stays to the end has at least ${f.plural(n, { one: '# race', other: '# races' })} in a division.`,

  /** What the programme makes sure of in a division, whatever the results. */
  sure: (n: number) =>
    `Everybody who stays to the end races at least ${n === 1 ? 'once' : f.plural(n, { one: '# time', other: '# times' })}.`,

  incidents: 'What may happen on a bench',
  incidentsSays: 'What follows is agreed before the races. An official decides, by name.',
  incident: 'What happens',
  follows: 'What follows',
  onTheDay: 'Decided on the day',
  in: (division: string) => `in ${division}`,

  benches: 'When benches do not read alike',
  bench: {
    report: 'It is said, and results stay as they were read.',
    correct: 'Results that are not official yet are corrected, at times that are said before; both numbers are shown.',
    'take-out': 'A bench that does not agree takes no more heats.',
  } satisfies Record<Rules['benches'], string>,

  care: 'Take care',
  careSays: 'These are the usual warnings. The rules of this place and the people in charge come first.',
  cautions: [
    'Rollers spin fast and a car can be thrown off: keep hair, sleeves, strings and fingers away, and stand clear of the ends of a bench.',
    'Let the rollers stop before you touch anything. “Stop all” means everybody: a bench cannot switch a motor off.',
    'A cell that is hot, swollen or leaking, or a wire that is hot: do not touch it, tell an adult at once.',
    'Charge only cells that are made for it, with an adult. Do not mix old and new cells or different kinds.',
    'Paint and glue only with an adult and fresh air. Small parts are not for children under three.',
    'If you have to raise your voice to be heard a metre away, step back or cover your ears.',
  ],

  tasks: 'The day beside the races',
  taskWhen: (from: string, until: string) => `${from} to ${until}`,
  lunchEach: (minutes: number) =>
    `each child has ${f.number(minutes)} minutes without a race in this time, while others race`,
  nobodyRaces: 'Nobody races in these times.',
  cuts: 'If it gets late',
  cutsSays: 'If the day gets late, this is left out, the first line first. What was raced counts.',
  cut: {
    'fewer-rounds': (division: string) => `${division}: one round less`,
    'no-third-place': (division: string) => `${division}: no race for third place, both are third`,
    'no-plate': (division: string) => `${division}: no plate`,
    'one-leg': (division: string) => `${division}: each pair races once, not twice`,
    'no-b-final': (division: string) => `${division}: no B-final`,
    'no-last-stage': (division: string) => `${division}: without the last stage`,
    'end-after-stage': (division: string) => `${division}: the stage under way is the last`,
    'end-after-round': (division: string) => `${division}: the round that is drawn is the last`,
  } satisfies Record<Schema['CutCode'], (division: string) => string>,
  cutSaves: (minutes: number) => f.plural(minutes, { one: '# minute earlier', other: '# minutes earlier' }),
  cutWhom: (children: number) => f.plural(children, { one: '# child races less', other: '# children race less' }),
  cutRuns: (runs: number) => f.plural(runs, { one: 'each races at least once', other: 'each races at least # times' }),
  cutFair: (time: string) => `only until about ${time}`,
};

export { trust } from './trust';
