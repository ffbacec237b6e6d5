// Two plots under each other: temperatures, and humidity with pace.
import uPlot from "uplot";
import type { AirPoint } from "../data/api";
import { colour, keepFitting, shade, timeAxis, timeSeries, valueAxis } from "./plot_ground";
import type { Words } from "../words/words";

interface Line {
  name: string;
  of: (point: AirPoint) => number | null;
  colour: string; // a custom property of page.css
  dash?: number[];
  scale: string;
}

// Draws into `place`; gives what takes it away again.
export function drawAir(place: HTMLElement, points: AirPoint[], words: Words): () => void {
  const degrees = (celsius: number | null): number | null => (celsius === null ? null : words.inScale(celsius));
  const unit = words.degrees();
  const plots = [
    plot(place, points, words, [
      { name: words.say("bay.air-in", { unit }), of: (point) => degrees(point.air_c), colour: "--line-1", scale: "y" },
      { name: words.say("bay.panel-in", { unit }), of: (point) => degrees(point.panel_c), colour: "--line-2", dash: [8, 4], scale: "y" },
      { name: words.say("bay.dew-point-in", { unit }), of: (point) => degrees(point.dew_point_c), colour: "--line-3", dash: [2, 4], scale: "y" },
    ]),
    plot(place, points, words, [
      { name: words.say("bay.humidity-in"), of: (point) => point.rh_pct, colour: "--line-1", scale: "y" },
      { name: words.say("bay.pace"), of: (point) => point.pace, colour: "--line-2", dash: [8, 4], scale: "pace" },
    ]),
  ];
  return keepFitting(place, plots);
}

function plot(place: HTMLElement, points: AirPoint[], words: Words, lines: Line[]): uPlot {
  const line = (index: number): Line | undefined => lines[index - 1]; // series 0 is time
  const axis = valueAxis(words);
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
        timeAxis(words),
        { ...axis, size: 44 },
        ...(twoScales ? [{ ...axis, scale: "pace", side: 1 as const, size: 40, grid: { show: false } }] : []),
      ],
      series: [
        timeSeries(words),
        ...lines.map((line) => ({
          label: line.name,
          scale: line.scale,
          stroke: colour(line.colour),
          width: 2,
          ...(line.dash ? { dash: line.dash } : {}),
          value: (_plot: uPlot, value: number | null) => (value == null ? "" : words.fixed(value, line.scale === "pace" ? 2 : 1)),
        })),
      ],
      hooks: { drawClear: [(drawn) => shade(drawn, points, words.site.time_zone)] },
    },
    [points.map((point) => Date.parse(point.at) / 1000), ...lines.map((line) => points.map(line.of))],
    place,
  );
}
