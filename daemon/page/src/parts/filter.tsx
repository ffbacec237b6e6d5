// Some of a vehicle's pieces: on one side, by the step that is next, by the zone that holds it back.
import type { JSX } from "preact";
import type { Piece, Which, ZoneKind } from "../data/api";
import type { Line } from "./lines";
import { nextOf, stepsOf } from "./steps";
import { sentence, steps, type Words } from "../words/words";

export interface Filter {
  side: Hand | null;
  which: Which | null;
  zone: ZoneKind | null;
}
export const no_filter: Filter = { side: null, which: null, zone: null };

// Of the vehicle, as one sits in it.
const hands = ["left", "right"] as const;
type Hand = (typeof hands)[number];
const isOn = ({ side }: Piece, hand: Hand): boolean => side === hand || (side?.startsWith(`${hand}-`) ?? false);

// What holds its next step back, or where it is asked about.
function zoneOf(piece: Piece): ZoneKind | null {
  const open = stepsOf(piece).filter((step) => step.mark !== "done");
  return (nextOf(open) ?? open[0])?.milestone.limiting_zone ?? null;
}
export const passes = ({ piece, step }: Line, { side, which, zone }: Filter): boolean =>
  (side === null || isOn(piece, side)) && (which === null || step?.which === which) && (zone === null || zoneOf(piece) === zone);

export function FilterBar(props: { pieces: Piece[]; filter: Filter; words: Words; onFilter: (filter: Filter) => void }): JSX.Element {
  const { pieces, filter, words, onFilter } = props;
  const zones = [...new Set(pieces.map(zoneOf))].filter((zone) => zone !== null);
  return (
    <div class="filter" role="group" aria-label={words.say("vehicle.show-only")}>
      {hands
        .filter((hand) => pieces.some((piece) => isOn(piece, hand)))
        .map((hand) => (
          <button type="button" key={hand} aria-pressed={filter.side === hand} onClick={() => onFilter({ ...filter, side: filter.side === hand ? null : hand })}>
            {sentence(words.side(hand))}
          </button>
        ))}
      {steps.map(({ which }) => (
        <button type="button" key={which} aria-pressed={filter.which === which} onClick={() => onFilter({ ...filter, which: filter.which === which ? null : which })}>
          {sentence(words.shortStep(which))}
        </button>
      ))}
      {zones.length > 1 &&
        zones.map((zone) => (
          <button type="button" key={zone} aria-pressed={filter.zone === zone} onClick={() => onFilter({ ...filter, zone: filter.zone === zone ? null : zone })}>
            {sentence(words.zone(zone))}
          </button>
        ))}
    </div>
  );
}
