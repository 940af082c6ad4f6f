import uPlot from 'uplot';
import 'uplot/dist/uPlot.min.css';
import { aligned, stretchX, stretchY, type Axis, type Mark, type Series } from './data';
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
  /** point moves the cursor to an x; null takes it away. */
  point(x: number | null): void;
  close(): void;
}

/**
 * chart draws a picture into an element as wide as that is, and again when its
 * width changes. `pointed` is told the x under the mouse. This file, and the
 * library with it, is loaded by pages that show a plot and by no others.
 */
export function chart(into: HTMLElement, picture: Picture, pointed: (x: number | null) => void): Chart {
  const look = getComputedStyle(into);
  const token = (name: string) => look.getPropertyValue(name).trim();
  const rem = parseFloat(getComputedStyle(document.documentElement).fontSize);
  const data = aligned(picture.series);
  let byKey = false;

  const axis = (of: Axis, side: number): uPlot.Axis => ({
    side,
    label: of.unit ? `${of.name}, ${of.unit}` : of.name,
    labelSize: 1.6 * rem,
    labelFont: `600 ${0.875 * rem}px ${token('--font-text')}`,
    size: side === 2 ? 1.9 * rem : 3 * rem,
    font: `600 ${rem}px ${token('--font-numeral')}`,
    stroke: token('--ink'),
    grid: { stroke: token('--ink-hair'), width: 1 },
    ticks: { stroke: token('--ink-line'), width: 1, size: 6 },
    incrs: steps.filter((step) => step >= 0.999 * 10 ** -of.decimals),
    border: { show: true, stroke: token('--ink'), width: 2 },
    values: (_u, splits) => {
      const step = splits.length > 1 ? splits[1]! - splits[0]! : 1;
      return splits.map((v) => picture.tick(v, Math.max(0, -Math.floor(Math.log10(step) + 1e-9))));
    },
  });

  const x = stretchX(picture.series, picture.marks);
  const y = stretchY(picture.series, picture.y);
  const options: uPlot.Options = {
    width: Math.max(200, into.clientWidth),
    height: into.clientHeight,
    padding: [0.9 * rem, 0.8 * rem, 0, 0],
    legend: { show: false },
    scales: { x: { time: false, range: [x.min, x.max] }, y: { range: [y.min, y.max] } },
    axes: [axis(picture.x, 2), axis(picture.y, 3)],
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
  };
  // The library draws between what it is given; points of a cloud share an x, so they are drawn by hand.
  const lines = data.map((column, i) =>
    i > 0 && picture.series[i - 1]!.points ? column.map(() => null) : column,
  ) as uPlot.AlignedData;
  const u = new uPlot(options, lines, into);

  const size = new ResizeObserver(() =>
    u.setSize({ width: Math.max(200, into.clientWidth), height: into.clientHeight }),
  );
  size.observe(into);
  return {
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

function drawPoints(u: uPlot, picture: Picture, token: (name: string) => string): void {
  const r = 5 * uPlot.pxRatio;
  picture.series.forEach((series, n) => {
    if (!series.points) return;
    const shape = shapeOf(n);
    u.ctx.save();
    u.ctx.strokeStyle = u.ctx.fillStyle = token(colourOf(n));
    u.ctx.lineWidth = 2 * uPlot.pxRatio;
    const places = apart(
      series.xs.flatMap((x, i): [number, number][] => {
        const y = series.ys[i];
        return y === null || y === undefined ? [] : [[u.valToPos(x, 'x', true), u.valToPos(y, 'y', true)]];
      }),
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
