// What is worth a look is answered where it is said, with one tap.
import type { JSX } from "preact";
import { useState } from "preact/hooks";
import type { Deed, Finding, Piece, ZoneKind } from "../data/api";
import { askedZones, stepsOf } from "./steps";
import { sentence, type Words } from "../words/words";

export type Tell = (deeds: Deed | Deed[], said: string) => void;

const sights = ["wet", "hazy", "clear"] as const;

// "Edge: what do you see?" Where more than one place is asked about, one tap says that all is clear.
function Look(props: { piece: Piece; zones: ZoneKind[]; words: Words; tell: Tell }): JSX.Element {
  const { piece, zones, words, tell } = props;
  const [seen, see] = useState<Finding | null>(null);
  const alone = zones.length === 1;
  const nameOf = (some: ZoneKind[]): string => (some[0] && some.length === 1 ? words.zone(some[0]) : words.say("vehicle.everywhere"));
  const answer = (finding: Finding, where: ZoneKind[]): void => {
    see(null);
    tell(
      where.map((zone) => ({ what: "inspected", piece: piece.id, zone, finding })),
      words.say("vehicle.inspected", { piece: words.piece(piece), zone: nameOf(where), finding: words.finding(finding) }),
    );
  };
  return (
    <fieldset class="deed choice look">
      <legend>{sentence(words.say("vehicle.look-question", { zone: nameOf(zones) }))}</legend>
      <div>
        {sights.map((finding) => (
          <button type="button" key={finding} aria-pressed={seen === finding} onClick={() => (alone || finding === "clear" ? answer(finding, zones) : see(finding))}>
            {sentence(alone || finding !== "clear" ? words.finding(finding) : words.say("vehicle.all-clear"))}
          </button>
        ))}
      </div>
      {seen && (
        <div role="group" aria-label={words.say("vehicle.look-where", { finding: words.finding(seen) })}>
          <p>{words.say("vehicle.look-where", { finding: sentence(words.finding(seen)) })}</p>
          {zones.map((zone) => (
            <button type="button" key={zone} onClick={() => answer(seen, [zone])}>
              {sentence(words.zone(zone))}
            </button>
          ))}
        </div>
      )}
    </fieldset>
  );
}

// The answers to what is worth a look, one for all steps that ask about the same places.
export function Looks({ piece, words, tell }: { piece: Piece; words: Words; tell: Tell }): JSX.Element {
  const looks = stepsOf(piece).filter((step) => step.mark === "look");
  const asked = new Map(looks.map(({ which }) => askedZones(which, piece)).map((some) => [some.join(), some]));
  return (
    <>
      {[...asked].map(([key, some]) => (
        <Look key={key} piece={piece} zones={some} words={words} tell={tell} />
      ))}
    </>
  );
}
