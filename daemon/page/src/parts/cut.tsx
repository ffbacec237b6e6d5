// A cut through a piece: panel, water and film, and what stands in each zone in words and figures.
import type { JSX } from "preact";
import type { Piece, Quantiles, Zone, ZoneKind } from "../data/api";
import { askedZones } from "./steps";
import { sentence, type Words } from "../words/words";

// In g/m2, rounded as facts are.
const waterWords = (water: number | null, words: Words): string => (water === null ? "?" : words.figure(Math.round(100 * water) / 100));

// Whether somebody has seen that it is clear there.
function isClearByWord(piece: Piece, kind: ZoneKind): boolean {
  return piece.milestones.some(({ which, announced, by_word }) => announced !== null && by_word && askedZones(which, piece).includes(kind));
}

// Still wet where more of it is likely to be wet than the shop allows: then its liquid is not likely to be gone.
function wetWords(piece: Piece, { kind, wet_share, gone_probability }: Zone, words: Words): string {
  if (isClearByWord(piece, kind)) {
    return words.say("vehicle.zone-clear");
  }
  if (gone_probability >= 0.5) {
    return words.say("vehicle.zone-gone", { share: words.chance(gone_probability) });
  }
  return wet_share.likely === null ? words.finding("wet") : words.say("vehicle.zone-wet", { share: words.share(wet_share.likely) });
}

const spreadOf = ({ low, likely, high }: Quantiles, write: (value: number | null) => string): Record<"low" | "likely" | "high", string> => ({
  low: write(low),
  likely: write(likely),
  high: write(high),
});

const high = 60;
const ground = 46;
const deep = 10; // of a recess, below the panel's face
const width = 100; // of a zone
const most = 36; // g/m2 that are drawn, at one to one

// Each zone one part: the film lies on its water; a recess lies deeper, an edge ends in the air.
function Drawing({ zones }: { zones: Zone[] }): JSX.Element {
  const all = zones.length * width;
  const floors = zones.map(({ kind }) => ground + (kind === "recess" ? deep : 0));
  const line = (above: (index: number) => number): string =>
    zones.map((_, index) => `${index === 0 ? "M" : "L"}${index * width + (index === 0 ? 0 : 14)} ${above(index).toFixed(1)}H${(index + 1) * width - (index === zones.length - 1 ? 0 : 14)}`).join("");
  const water = (index: number): number => (floors[index] ?? ground) - Math.min(most, Math.max(0, zones[index]?.water.likely ?? 0));
  const floor = (index: number): number => floors[index] ?? ground;
  const back = zones
    .map((_, index) => zones.length - 1 - index)
    .map((index) => `L${(index + 1) * width - (index === zones.length - 1 ? 0 : 14)} ${floor(index)}H${index * width + (index === 0 ? 0 : 14)}`)
    .join("");
  return (
    <svg class="cut" viewBox={`0 0 ${all} ${high}`} preserveAspectRatio="none" aria-hidden="true">
      <path class="body" d={`${line(floor)}V${high}H0z`} />
      <path class="water" d={`${line(water)}${back}z`} />
      <path class="film" d={line((index) => water(index) - 1)} />
    </svg>
  );
}

export function Cut({ piece, words }: { piece: Piece; words: Words }): JSX.Element | null {
  const { zones } = piece.state;
  if (zones.length === 0) {
    return null;
  }
  return (
    <>
      <Drawing zones={zones} />
      <dl class="zones" style={{ gridTemplateColumns: `repeat(${zones.length}, 1fr)` }}>
        {zones.map((zone, index) => (
          <div class="zone" key={index}>
            <dt>{sentence(words.zone(zone.kind))}</dt>
            <dd>
              {wetWords(piece, zone, words)}
              <small>
                {words.say("vehicle.water", {
                  ...spreadOf(zone.water, (water) => waterWords(water, words)),
                  likely: words.say("units.water", { n: waterWords(zone.water.likely, words) }),
                })}
              </small>
            </dd>
          </div>
        ))}
      </dl>
    </>
  );
}

// How firmly it holds by now: advice for the customer, and no step waits for it.
export function Bond({ piece, words }: { piece: Piece; words: Words }): JSX.Element | null {
  const { zones } = piece.state;
  const percent = (bond: number | null): string => (bond === null ? "?" : words.number(100 * bond, 0));
  return zones.length === 0 ? null : (
    <ul class="plain">
      {zones.map(({ kind, bond }, index) => (
        <li key={index}>
          {words.about(
            sentence(words.zone(kind)),
            words.say("vehicle.bond", { ...spreadOf(bond, percent), likely: words.say("units.share", { n: percent(bond.likely) }) }),
          )}
        </li>
      ))}
    </ul>
  );
}
