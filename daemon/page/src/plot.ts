// Two plots under each other: temperatures, and humidity with pace.
import uPlot from "uplot";
import type { AirPoint } from "./api";
import type { Words } from "./words";

const night_from = 20; // o'clock, local
const night_to = 6;

interface Line {
  name: string;
  of: (point: AirPoint) => number | null;
  colour: string; // a custom property of page.css
  dash?: number[];
  scale: string;
}

// Draws into `place`; gives what takes it away again.
export function drawAir(place: HTMLElement, points: AirPoint[], words: Words): () => void {
  const fahrenheit = words.site.temperature_unit === "F";
  const degrees = (celsius: number | null): number | null =>
    celsius === null ? null : fahrenheit ? (celsius * 9) / 5 + 32 : celsius;
  const unit = `°${words.site.temperature_unit}`;
  const plots = [
    plot(place, points, words, [
      { name: `Air ${unit}`, of: (point) => degrees(point.air_c), colour: "--line-1", scale: "y" },
      { name: `Panel ${unit}`, of: (point) => degrees(point.panel_c), colour: "--line-2", dash: [8, 4], scale: "y" },
      { name: `Dew point ${unit}`, of: (point) => degrees(point.dew_point_c), colour: "--line-3", dash: [2, 4], scale: "y" },
    ]),
    plot(place, points, words, [
      { name: "Humidity %", of: (point) => point.rh_pct, colour: "--line-1", scale: "y" },
      { name: "Pace", of: (point) => point.pace, colour: "--line-2", dash: [8, 4], scale: "pace" },
    ]),
  ];
  const fit = (): void => plots.forEach((one) => one.setSize({ width: place.clientWidth, height: one.height }));
  addEventListener("resize", fit);
  return () => {
    removeEventListener("resize", fit);
    plots.forEach((one) => one.destroy());
  };
}

function plot(place: HTMLElement, points: AirPoint[], words: Words, lines: Line[]): uPlot {
  const style = getComputedStyle(document.documentElement);
  const colour = (name: string): string => style.getPropertyValue(name).trim();
  const line = (index: number): Line | undefined => lines[index - 1]; // series 0 is time
  const axis = { stroke: colour("--ink"), grid: { stroke: colour("--rule"), width: 1 }, ticks: { stroke: colour("--rule"), width: 1 } };
  const twoScales = lines.some((line) => line.scale === "pace");
  return new uPlot(
    {
      width: place.clientWidth,
      height: 220,
      tzDate: (seconds) => uPlot.tzDate(new Date(seconds * 1000), words.site.time_zone),
      cursor: { drag: { x: false, y: false } },
      scales: { pace: { range: (_plot, _low, high) => [0, Math.max(1.2, high)] } },
      legend: {
        markers: { width: 3, dash: (_plot, index) => (line(index)?.dash?.[0] === 2 ? "dotted" : line(index)?.dash ? "dashed" : "solid") },
      },
      axes: [
        { ...axis, space: 56, values: (_plot, ticks) => ticks.map((seconds) => words.tick(new Date(seconds * 1000))) },
        { ...axis, size: 44 },
        ...(twoScales ? [{ ...axis, scale: "pace", side: 1 as const, size: 40, grid: { show: false } }] : []),
      ],
      series: [
        { label: "Time", value: (_plot, seconds) => (seconds == null ? "" : words.when(new Date(seconds * 1000), new Date(seconds * 1000))) },
        ...lines.map((line) => ({
          label: line.name,
          scale: line.scale,
          stroke: colour(line.colour),
          width: 2,
          ...(line.dash ? { dash: line.dash } : {}),
          value: (_plot: uPlot, value: number | null) => (value == null ? "" : value.toFixed(line.scale === "pace" ? 2 : 1)),
        })),
      ],
      hooks: { drawClear: [(drawn) => shade(drawn, points, words.site.time_zone, colour("--night"), colour("--ink"))] },
    },
    [points.map((point) => Date.parse(point.at) / 1000), ...lines.map((line) => points.map(line.of))],
    place,
  );
}

// Night as grey ground, stretches without readings hatched.
function shade(drawn: uPlot, points: AirPoint[], timeZone: string, night: string, ink: string): void {
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
  ctx.fillStyle = night;
  ctx.fill(nights);
  ctx.clip(bridged);
  ctx.strokeStyle = ink;
  ctx.globalAlpha = 0.5;
  ctx.beginPath();
  for (let x = bbox.left - bbox.height; x < bbox.left + bbox.width; x += 9) {
    ctx.moveTo(x, bbox.top + bbox.height);
    ctx.lineTo(x + bbox.height, bbox.top);
  }
  ctx.stroke();
  ctx.restore();
}
