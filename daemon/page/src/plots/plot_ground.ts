// What lies under every plot: night, stretches without readings, and the colours of the page.
import type uPlot from "uplot";
import type { Words } from "../words/words";

const night_from = 20; // o'clock, local
const night_to = 6;

export function colour(name: string): string {
  return getComputedStyle(document.documentElement).getPropertyValue(name).trim();
}

function axisStyle(): Pick<uPlot.Axis, "stroke" | "grid" | "ticks"> {
  const rule = { stroke: colour("--rule"), width: 1 };
  return { stroke: colour("--ink"), grid: rule, ticks: rule };
}

export function valueAxis(words: Words): uPlot.Axis {
  return { ...axisStyle(), values: (_plot, ticks) => ticks.map((tick) => words.number(tick, 2)) };
}

export function timeAxis(words: Words): uPlot.Axis {
  return { ...axisStyle(), space: 56, values: (_plot, ticks) => ticks.map((seconds) => words.tick(new Date(seconds * 1000))) };
}

export function timeSeries(words: Words): uPlot.Series {
  return { label: words.say("bay.time"), value: (_plot, seconds) => (seconds == null ? "" : words.when(new Date(seconds * 1000), new Date(seconds * 1000))) };
}

// Keeps the plots as wide as their place; gives what takes them away again.
export function keepFitting(place: HTMLElement, plots: uPlot[]): () => void {
  const fit = (): void => plots.forEach((one) => one.setSize({ width: place.clientWidth, height: one.height }));
  addEventListener("resize", fit);
  return () => {
    removeEventListener("resize", fit);
    plots.forEach((one) => one.destroy());
  };
}

// Night as grey ground, stretches without readings hatched.
export function shade(drawn: uPlot, points: { at: string; bridged?: boolean }[], timeZone: string): void {
  const { ctx, bbox } = drawn;
  const hour = new Intl.DateTimeFormat("en-GB", { hour: "2-digit", hourCycle: "h23", timeZone });
  const nights = new Path2D();
  const bridged = new Path2D();
  points.forEach((point, index) => {
    const next = points[index + 1];
    if (!next) {
      return;
    }
    const left = drawn.valToPos(Date.parse(point.at) / 1000, "x", true);
    const width = drawn.valToPos(Date.parse(next.at) / 1000, "x", true) - left + 1;
    const clock = Number(hour.format(new Date(point.at)));
    if (clock >= night_from || clock < night_to) {
      nights.rect(left, bbox.top, width, bbox.height);
    }
    if (next.bridged) {
      bridged.rect(left, bbox.top, width, bbox.height);
    }
  });
  ctx.save();
  ctx.fillStyle = colour("--night");
  ctx.fill(nights);
  ctx.clip(bridged);
  ctx.strokeStyle = colour("--ink");
  ctx.globalAlpha = 0.5;
  ctx.beginPath();
  for (let x = bbox.left - bbox.height; x < bbox.left + bbox.width; x += 9) {
    ctx.moveTo(x, bbox.top + bbox.height);
    ctx.lineTo(x + bbox.height, bbox.top);
  }
  ctx.stroke();
  ctx.restore();
}
