import uPlot from 'uplot';
import 'uplot/dist/uPlot.min.css';
import { aligned, stretchX, stretchY, type Axis, type Mark, type Series, type Stretch } from './data';
import { apart, colourOf, dashOf, filled, outline, shapeOf, signPath } from './style';

/** Picture is all that a chart draws. */
export interface Picture {
  x: Axis;
  y: Axis;
  series: readonly Series[];
  marks: readonly Mark[];
  /** Writes a number at the tick of an axis. */
  tick: (value: number, decimals: number) => string;
}

/** The steps between ticks: 1, 2 and 5 of every size. */
const steps = Array.from({ length: 15 }, (_, power) => [1, 2, 5].map((n) => Number(`${n}e${power - 6}`))).flat();

/** Chart is a picture on the page that can be pointed at. */
export interface Chart {
  /** draw shows another picture in its place. One of the same axes and as many series costs no new canvas. */
  draw(picture: Picture): void;
  /** point moves the cursor to an x; null takes it away. */
  point(x: number | null): void;
  close(): void;
}

/**
 * chart draws a picture into an element as wide as that is, and again when its
 * width changes. `pointed` is told the x under the mouse. This file, and the
 * library with it, is loaded by pages that show a plot and by no others.
 */
export function chart(into: HTMLElement, first: Picture, pointed: (x: number | null) => void): Chart {
  const look = getComputedStyle(into);
  const token = (name: string) => look.getPropertyValue(name).trim();
  const rem = parseFloat(getComputedStyle(document.documentElement).fontSize);
  const room = () => ({ width: Math.max(200, into.clientWidth), height: into.clientHeight });
  let picture = first;
  let byKey = false;

  const axis = (which: 'x' | 'y', side: number): uPlot.Axis => ({
    side,
    label: picture[which].unit ? `${picture[which].name}, ${picture[which].unit}` : picture[which].name,
    labelSize: 1.6 * rem,
    labelFont: `600 ${0.875 * rem}px ${token('--font-text')}`,
    size: side === 2 ? 1.9 * rem : 3 * rem,
    font: `600 ${rem}px ${token('--font-numeral')}`,
    stroke: token('--ink'),
    grid: { stroke: token('--ink-hair'), width: 1 },
    ticks: { stroke: token('--ink-line'), width: 1, size: 6 },
    incrs: steps.filter((step) => step >= 0.999 * 10 ** -picture[which].decimals),
    border: { show: true, stroke: token('--ink'), width: 2 },
    values: (_u, splits) => {
      const step = splits.length > 1 ? splits[1]! - splits[0]! : 1;
      return splits.map((v) => picture.tick(v, Math.max(0, -Math.floor(Math.log10(step) + 1e-9))));
    },
  });
  const stretched = (of: Stretch): [number, number] => [of.min, of.max];

  const build = (): uPlot =>
    new uPlot(
      {
        ...room(),
        padding: [0.9 * rem, 0.8 * rem, 0, 0],
        legend: { show: false },
        scales: {
          x: { time: false, range: () => stretched(stretchX(picture.series, picture.marks)) },
          y: { range: () => stretched(stretchY(picture.series, picture.y)) },
        },
        axes: [axis('x', 2), axis('y', 3)],
        cursor: { y: false, drag: { x: false, y: false, setScale: false }, points: { size: 10 } },
        series: [
          {},
          ...picture.series.map((series, n): uPlot.Series => ({
            label: series.name,
            stroke: token(colourOf(n)),
            width: 2.5,
            dash: [...dashOf(n)],
            ...(series.points ? { paths: () => null } : {}),
            points: { show: false },
          })),
        ],
        hooks: {
          draw: [(u) => drawPoints(u, picture, token), (u) => drawMarks(u, picture.marks, token)],
          setCursor: [
            (u) => {
              if (byKey) return;
              const left = u.cursor.left ?? -1;
              pointed(left < 0 ? null : u.posToVal(left, 'x'));
            },
          ],
        },
      },
      lines(picture),
      into,
    );
  let u = build();

  // The first time it tells the size that the picture was built for.
  const size = new ResizeObserver(() => {
    const { width, height } = room();
    if (width !== u.width || height !== u.height) u.setSize({ width, height });
  });
  size.observe(into);
  return {
    draw(next) {
      const same = alike(picture, next);
      picture = next;
      if (same) u.setData(lines(next));
      else {
        u.destroy();
        u = build();
      }
    },
    point(at) {
      byKey = true;
      u.setCursor(at === null ? { left: -10, top: -10 } : { left: u.valToPos(at, 'x'), top: 0 });
      byKey = false;
    },
    close() {
      size.disconnect();
      u.destroy();
    },
  };
}

/** lines are what the library draws by itself; points of a cloud share an x, so they are drawn by hand. */
const lines = (of: Picture): uPlot.AlignedData =>
  aligned(of.series).map((column, i) =>
    i > 0 && of.series[i - 1]!.points ? column.map(() => null) : column,
  ) as uPlot.AlignedData;

/** alike says whether a chart of the one can show the other: it is built for its axes, and for lines or points. */
function alike(one: Picture, other: Picture): boolean {
  const axes = ({ x, y }: Picture) => [x.name, x.unit, x.decimals, y.name, y.unit, y.decimals];
  const kinds = ({ series }: Picture) => series.map((of) => of.points === true);
  return String([axes(one), kinds(one)]) === String([axes(other), kinds(other)]);
}

function drawPoints(u: uPlot, { series }: Picture, token: (name: string) => string): void {
  const r = 5 * uPlot.pxRatio;
  series.forEach((of, n) => {
    if (!of.points) return;
    const shape = shapeOf(n);
    u.ctx.save();
    u.ctx.strokeStyle = u.ctx.fillStyle = token(colourOf(n));
    u.ctx.lineWidth = 2 * uPlot.pxRatio;
    const places = apart(
      of,
      (at) => u.valToPos(at, 'x', true),
      (value) => u.valToPos(value, 'y', true),
    );
    for (const [x, y] of places) {
      if (shape === 'disc') {
        // By far the commonest, and quicker than a path that has to be read.
        u.ctx.beginPath();
        u.ctx.arc(x, y, r, 0, 2 * Math.PI);
        u.ctx.fill();
      } else if (filled(shape)) u.ctx.fill(new Path2D(outline(shape, x, y, r)));
      else u.ctx.stroke(new Path2D(outline(shape, x, y, r)));
    }
    u.ctx.restore();
  });
}

function drawMarks(u: uPlot, marks: readonly Mark[], token: (name: string) => string): void {
  const { ctx, bbox } = u;
  ctx.save();
  ctx.strokeStyle = ctx.fillStyle = token('--plot-mark');
  ctx.lineWidth = 1.5 * uPlot.pxRatio;
  for (const mark of marks) {
    const at = u.valToPos(mark.at, 'x', true);
    if (mark.sign === 'line') {
      ctx.setLineDash([5 * uPlot.pxRatio, 4 * uPlot.pxRatio]);
      ctx.beginPath();
      ctx.moveTo(at, bbox.top);
      ctx.lineTo(at, bbox.top + bbox.height);
      ctx.stroke();
      ctx.setLineDash([]);
    } else ctx.fill(new Path2D(signPath(mark.sign, at, bbox.top - 4 * uPlot.pxRatio, 4 * uPlot.pxRatio)));
  }
  ctx.restore();
}
