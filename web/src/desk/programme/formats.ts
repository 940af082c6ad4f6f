import type { Schema } from '$lib/api';

type Option = Schema['FormatOption'];
type Division = Schema['Division'];

/** adoption are the saves that put a programme into its divisions; all else of them stays as it is. */
export function adoption(
  option: Pick<Option, 'divisions'>,
  divisions: readonly Division[],
): { id: string; edition: string | undefined; body: Schema['DivisionBody'] }[] {
  return option.divisions.flatMap(({ division, stages }) => {
    const of = divisions.find((d) => d.id === division);
    if (!of || of.stage > 0) return [];
    const { name, age_from, age_to } = of;
    return [{ id: of.id, edition: of.edition, body: { name, age_from, age_to, class: of.class, stages } }];
  });
}

/** points of the plot: minutes of racing and in how many of 100 days the quickest car wins, apart by the advice. */
export function points(
  compared: Pick<Schema['FormatComparison'], 'begins' | 'options'>,
): { advised: boolean; xs: number[]; ys: number[]; options: Option[] }[] {
  const minutes = (option: Option) => (Date.parse(option.finish.p50) - Date.parse(compared.begins)) / 60_000;
  return [false, true].flatMap((advised) => {
    const options = compared.options
      .filter((option) => (option.advised_against !== undefined) === advised)
      .sort((a, b) => minutes(a) - minutes(b));
    if (options.length === 0) return [];
    return [{ advised, options, xs: options.map(minutes), ys: options.map((o) => Math.round(o.best_car_wins * 100)) }];
  });
}
