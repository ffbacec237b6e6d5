// What a piece is ready for, step by step, as its milestones tell.
import type { Milestone, Piece, Vehicle, Which, ZoneKind } from "../data/api";
import { steps } from "../words/words";

// look: worth a look, as likely as not; somebody has to say whether it is so.
export type Mark = "done" | "ready" | "look" | "waiting";

export interface Step {
  mark: Mark;
  which: Which;
  event: (typeof steps)[number]["event"];
  milestone: Milestone;
}

export const laidNow = (vehicle: Vehicle): Piece[] =>
  vehicle.pieces.filter((piece) => !piece.removed && piece.replaced_by === null);

export const milestoneOf = (piece: Piece, which: Which): Milestone | undefined => piece.milestones.find((one) => one.which === which);

function allSteps(piece: Piece): Step[] {
  return steps.flatMap(({ which, event, at }) => {
    const milestone = milestoneOf(piece, which);
    if (!milestone) {
      return [];
    }
    const done = at ? piece[at] !== null : milestone.announced !== null;
    const mark = done ? "done" : milestone.announced ? "ready" : milestone.look ? "look" : "waiting";
    return [{ mark, which, event, milestone }];
  });
}
const isLeftOut = ({ mark, milestone }: Step): boolean => mark !== "done" && !milestone.needed;

export const stepsOf = (piece: Piece): Step[] => allSteps(piece).filter((step) => !isLeftOut(step));
// Those that nobody will do, though they could be done there.
export const leftOut = (piece: Piece): Step[] =>
  allSteps(piece).filter((step) => isLeftOut(step) && (!isOfEdge(step.which) || piece.zones.includes("edge")));

const isOfEdge = (which: Which): boolean => which === "wrap-ready" || which === "trim-ready";

// Where it is to be looked at before that step.
export const askedZones = (which: Which, { zones }: Piece): ZoneKind[] => (isOfEdge(which) && zones.includes("edge") ? ["edge"] : zones);

// What a piece is known by at a glance: the most that can be done on it.
export function markOf(piece: Piece): Mark {
  const marks = stepsOf(piece).map((step) => step.mark);
  return (["ready", "look", "waiting"] as const).find((mark) => marks.includes(mark)) ?? "done";
}

// Of those that are not ready the one that will be called so first.
export function nextOf(steps: Step[]): Step | undefined {
  const at = ({ milestone }: Step): number => (milestone.announces ? Date.parse(milestone.announces) : Infinity);
  return steps.filter((step) => step.mark === "waiting").sort((a, b) => (at(a) < at(b) ? -1 : at(a) > at(b) ? 1 : 0))[0];
}

// Nothing has measured the air since it was laid: nothing can be foreseen.
export const isUnmeasured = (milestones: Pick<Milestone, "held_by">[]): boolean =>
  milestones.some(({ held_by }) => held_by.key === "limits.no-readings");

// No outlook has been made of it yet.
export const isBeingEstimated = (piece: Piece): boolean => piece.state.zones.length === 0;
