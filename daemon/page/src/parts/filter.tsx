// Some of a vehicle's pieces: by the step that is next, by the zone that holds it back.
import type { JSX } from "preact";
import type { Piece, Which, ZoneKind } from "../data/api";
import type { Line } from "./lines";
import { nextOf, stepsOf } from "./steps";
import { sentence, steps, type Words } from "../words/words";

export interface Filter {
  which: Which | null;
  zone: ZoneKind | null;
}
export const no_filter: Filter = { which: null, zone: null };

// What holds its next step back, or where it is asked about.
function zoneOf(piece: Piece): ZoneKind | null {
  const open = stepsOf(piece).filter((step) => step.mark !== "done");
  return (nextOf(open) ?? open[0])?.milestone.limiting_zone ?? null;
}
export const passes = ({ piece, step }: Line, { which, zone }: Filter): boolean => (which === null || step?.which === which) && (zone === null || zoneOf(piece) === zone);

export function FilterBar(props: { pieces: Piece[]; filter: Filter; words: Words; onFilter: (filter: Filter) => void }): JSX.Element {
  const { pieces, filter, words, onFilter } = props;
  const zones = [...new Set(pieces.map(zoneOf))].filter((zone) => zone !== null);
  return (
    <div class="filter" role="group" aria-label={words.say("vehicle.show-only")}>
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
