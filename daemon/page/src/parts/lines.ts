// Pieces in the order of what can be done: what is ready by step, what is worth a look, what comes when.
import type { Piece, Vehicle, Which } from "../data/api";
import { type Until, untils } from "./axis";
import { isBeingEstimated, isUnmeasured, laidNow, type Mark, markOf, nextOf, type Step, stepsOf } from "./steps";

export interface Line {
  vehicle: Vehicle;
  piece: Piece;
  mark: Mark;
  step: Step | null; // that it stands here for; null: none is left
  at: number | null; // when it will be called ready; null: ready, or not foreseen
  late: boolean; // after the agreed hand-over
  unknown: "estimate" | "air" | null; // why nothing is foreseen: no estimate yet, nobody measures its air
}

export function lineOf(vehicle: Vehicle, piece: Piece): Line {
  const open = stepsOf(piece).filter((step) => step.mark !== "done");
  const mark = markOf(piece);
  const step = (mark === "waiting" ? nextOf(open) : open.find((one) => one.mark === mark)) ?? null;
  const announces = mark === "waiting" ? step?.milestone.announces : null;
  const at = announces ? Date.parse(announces) : null;
  const late = at !== null && vehicle.hand_over !== null && at > Date.parse(vehicle.hand_over);
  const unknown = mark !== "waiting" ? null : isBeingEstimated(piece) ? "estimate" : step && isUnmeasured([step.milestone]) ? "air" : null;
  return { vehicle, piece, mark, step, at, late, unknown };
}

export const linesOf = (vehicles: Vehicle[]): Line[] => vehicles.flatMap((vehicle) => laidNow(vehicle).map((piece) => lineOf(vehicle, piece)));

export interface Groups {
  ready: { which: Which; lines: Line[] }[]; // in the order of the work
  looks: Line[];
  coming: { until: Until | null; lines: Line[] }[]; // null: later
  rest: Line[]; // no step is left but to leave
}

const isRest = ({ mark, step }: Line): boolean => mark === "done" || (mark === "waiting" && step?.which === "may-leave");
// What is not foreseen comes last.
export const byTime = (a: Line, b: Line): number => (a.at ?? Infinity) - (b.at ?? Infinity) || a.piece.id - b.piece.id;

export function groupsOf(lines: Line[], now: number, zone: string): Groups {
  const ready = (["wrap-ready", "trim-ready", "refit-ready"] as const)
    .map((which) => ({ which, lines: lines.filter((line) => line.mark === "ready" && line.step?.which === which) }))
    .filter((group) => group.lines.length > 0);
  const waiting = lines.filter((line) => line.mark === "waiting" && !isRest(line)).sort(byTime);
  const [first, second] = untils(now, zone) as [Until, Until];
  const before = (line: Line, until: Until): boolean => line.at !== null && line.at <= until.at;
  const coming = [
    { until: first, lines: waiting.filter((line) => before(line, first)) },
    { until: second, lines: waiting.filter((line) => !before(line, first) && before(line, second)) },
    { until: null, lines: waiting.filter((line) => !before(line, second)) },
  ].filter((group) => group.lines.length > 0);
  return { ready, looks: lines.filter(({ mark }) => mark === "look"), coming, rest: lines.filter(isRest) };
}
