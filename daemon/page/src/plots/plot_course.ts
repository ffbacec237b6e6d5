// The water layer of a piece's zones, one plot under the other, with what was done and what became ready.
import uPlot from "uplot";
import type { HistoryPoint, Quantiles, ZoneKind } from "../data/api";
import { colour, keepFitting, shade, timeAxis, timeSeries, valueAxis } from "./plot_ground";
import type { Words } from "../words/words";

export interface Mark {
  at: Date;
  ready: boolean; // a milestone, as against a deed
}

// `place` gets a canvas for each of `zones`; marks are numbered from 1 in their order. Gives what takes it away again.
export function drawCourse(
  place: HTMLElement,
  points: HistoryPoint[],
  zones: { kind: ZoneKind; name: string }[],
  marks: Mark[],
  words: Words,
): () => void {
  return keepFitting(
    place,
    zones.map(({ kind, name }) => plot(place, points, kind, name, marks, words)),
  );
}

function plot(place: HTMLElement, points: HistoryPoint[], kind: ZoneKind, name: string, marks: Mark[], words: Words): uPlot {
  const along = (of: keyof Quantiles): (number | null)[] =>
    points.map((point) => point.zones.find((zone) => zone.kind === kind)?.water[of] ?? null);
  const text = (_plot: uPlot, value: number | null): string => (value == null ? "" : words.fixed(value, 1));
  const line = colour("--line-1");
  const times = points.map((point) => Date.parse(point.at) / 1000);
  const last = times[times.length - 1] ?? 0;
  const first = Math.min(times[0] ?? last, last - 3600); // a piece laid just now has a width too
  return new uPlot(
    {
      width: place.clientWidth,
      height: 190,
      title: words.say("course.water-of", { zone: name }),
      tzDate: (seconds) => uPlot.tzDate(new Date(seconds * 1000), words.site.time_zone),
      cursor: { drag: { x: false, y: false } },
      scales: { x: { range: [first, last] }, y: { range: (_plot, _low, high) => [0, Math.max(2, high * 1.15)] } },
      axes: [timeAxis(words), { ...valueAxis(words), size: 44 }],
      series: [
        timeSeries(words),
        { label: words.say("course.likely"), stroke: line, width: 2.5, value: text },
        { label: words.say("course.low"), stroke: line, width: 1, dash: [3, 4], points: { show: false }, value: text },
        { label: words.say("course.high"), stroke: line, width: 1, dash: [3, 4], points: { show: false }, value: text },
      ],
      bands: [{ series: [3, 2], fill: colour("--band") }],
      hooks: {
        drawClear: [(drawn) => shade(drawn, points, words.site.time_zone)],
        draw: [(drawn) => drawMarks(drawn, marks)],
      },
    },
    [times, along("likely"), along("low"), along("high")],
    place,
  );
}

// A numbered square for a deed, a numbered round for what became ready, each on a line of its own kind.
function drawMarks(drawn: uPlot, marks: Mark[]): void {
  const { ctx, bbox } = drawn;
  const unit = devicePixelRatio;
  const radius = 8 * unit;
  ctx.save();
  ctx.font = `600 ${12 * unit}px system-ui, sans-serif`;
  ctx.textAlign = "center";
  ctx.textBaseline = "middle";
  ctx.lineWidth = 1.5 * unit;
  const taken: { x: number; row: number }[] = [];
  marks.forEach((mark, index) => {
    const x = Math.min(Math.max(drawn.valToPos(mark.at.getTime() / 1000, "x", true), bbox.left), bbox.left + bbox.width);
    const near = new Set(taken.filter((one) => Math.abs(one.x - x) < 2.2 * radius).map((one) => one.row));
    let row = 0;
    while (near.has(row)) {
      ++row;
    }
    taken.push({ x, row });
    const y = bbox.top + radius * (1.2 + 2.3 * row);
    ctx.strokeStyle = colour(mark.ready ? "--ready" : "--ink");
    ctx.setLineDash(mark.ready ? [2 * unit, 3 * unit] : []);
    ctx.beginPath();
    ctx.moveTo(x, y);
    ctx.lineTo(x, bbox.top + bbox.height);
    ctx.stroke();
    ctx.setLineDash([]);
    ctx.beginPath();
    if (mark.ready) {
      ctx.arc(x, y, radius, 0, 2 * Math.PI);
    } else {
      ctx.rect(x - radius, y - radius, 2 * radius, 2 * radius);
    }
    ctx.fillStyle = colour("--card");
    ctx.fill();
    ctx.stroke();
    ctx.fillStyle = ctx.strokeStyle;
    ctx.fillText(String(index + 1), x, y);
  });
  ctx.restore();
}
