// What is seen on a piece, told with one tap.
import type { JSX } from "preact";
import { useState } from "preact/hooks";
import type { Deed, Finding, Piece, ZoneKind } from "../data/api";
import type { Line } from "./lines";
import { Choice, Sign } from "./parts";
import { AnswerRow } from "./row";
import { askedZones, nextOf, stepsOf } from "./steps";
import { sentence, type Words } from "../words/words";

export type Tell = (deeds: Deed | Deed[], said: string) => unknown;

const sights = ["wet", "hazy", "clear"] as const;

const placeWords = (some: ZoneKind[], words: Words): string => (some[0] && some.length === 1 ? words.zone(some[0]) : words.say("vehicle.everywhere"));

function tellLook(piece: Piece, finding: Finding, where: ZoneKind[], words: Words, tell: Tell): void {
  tell(
    where.map((zone) => ({ what: "inspected", piece: piece.id, zone, finding })),
    words.say("vehicle.inspected", { piece: words.piece(piece), zone: placeWords(where, words), finding: words.finding(finding) }),
  );
}

function Sight({ finding, pressed, words, onTap }: { finding: Finding; pressed?: boolean; words: Words; onTap: () => void }): JSX.Element {
  return (
    <button type="button" class="sight" aria-pressed={pressed} onClick={onTap}>
      <Sign of={finding} />
      <span>{sentence(words.finding(finding))}</span>
    </button>
  );
}

// "Hazy: where?"
function WhereSeen(props: { seen: Finding; zones: ZoneKind[]; words: Words; onTap: (zone: ZoneKind) => void }): JSX.Element {
  const { seen, zones, words, onTap } = props;
  return (
    <div class="choice where-seen" role="group" aria-label={words.say("vehicle.look-where", { finding: words.finding(seen) })}>
      <p>{words.say("vehicle.look-where", { finding: sentence(words.finding(seen)) })}</p>
      <div>
        {zones.map((zone) => (
          <button type="button" key={zone} onClick={() => onTap(zone)}>
            {sentence(words.zone(zone))}
          </button>
        ))}
      </div>
    </div>
  );
}

// What is worth a look is answered where it stands. All clear is one tap wherever it is asked about; where it is wet is asked.
export function LookAnswers(props: { line: Line; name: JSX.Element; words: Words; tell: Tell }): JSX.Element {
  const { line, name, words, tell } = props;
  const { piece, step } = line;
  const [seen, see] = useState<Finding | null>(null);
  const zones = step ? askedZones(step.which, piece) : piece.zones;
  const alone = zones.length === 1;
  const answer = (finding: Finding, where: ZoneKind[]): void => {
    see(null);
    tellLook(piece, finding, where, words, tell);
  };
  const question = words.say("vehicle.look-at", { piece: words.piece(piece), zone: placeWords(zones, words) });
  return (
    <>
      <AnswerRow name={name}>
        <div class="deed sights" role="group" aria-label={question}>
          {sights.map((finding) => (
            <Sight
              key={finding}
              finding={finding}
              words={words}
              {...(alone || finding === "clear" ? {} : { pressed: seen === finding })}
              onTap={() => (alone || finding === "clear" ? answer(finding, zones) : see(finding))}
            />
          ))}
        </div>
      </AnswerRow>
      {seen && <WhereSeen seen={seen} zones={zones} words={words} onTap={(zone) => answer(seen, [zone])} />}
    </>
  );
}

const all_sights = ["wet", "hazy", "clear", "lifting"] as const;

// In the card: of any zone, at first of the one that holds the next step back, or that is asked about.
export function LookAtAny({ piece, words, tell }: { piece: Piece; words: Words; tell: Tell }): JSX.Element {
  const open = stepsOf(piece).filter((step) => step.mark !== "done");
  const asked_step = open.find((step) => step.mark === "look");
  const next = nextOf(open);
  const asked = asked_step ? askedZones(asked_step.which, piece) : [next?.milestone.limiting_zone ?? piece.zones[0] ?? "field"];
  const [zone, setZone] = useState<ZoneKind | "all">(asked.length === 1 && asked[0] ? asked[0] : "all");
  const [seen, see] = useState<Finding | null>(null);
  const answer = (finding: Finding, where: ZoneKind[]): void => {
    see(null);
    tellLook(piece, finding, where, words, tell);
  };
  const everywhere = { value: "all" as const, text: words.title("vehicle.everywhere") };
  return (
    <div class="deed" role="group" aria-label={words.say("vehicle.look-question")}>
      <h4>{words.say("vehicle.look-question")}</h4>
      {piece.zones.length > 1 && (
        <Choice
          label={words.say("vehicle.look-place", { piece: words.piece(piece) })}
          options={[...piece.zones.map((value) => ({ value, text: sentence(words.zone(value)) })), everywhere]}
          value={zone}
          onChoose={setZone}
        />
      )}
      <div class="sights four">
        {all_sights.map((finding) => (
          <Sight
            key={finding}
            finding={finding}
            words={words}
            {...(zone === "all" && finding !== "clear" ? { pressed: seen === finding } : {})}
            onTap={() => (zone !== "all" ? answer(finding, [zone]) : finding === "clear" ? answer(finding, piece.zones) : see(finding))}
          />
        ))}
      </div>
      {seen && zone === "all" && <WhereSeen seen={seen} zones={piece.zones} words={words} onTap={(one) => answer(seen, [one])} />}
    </div>
  );
}
