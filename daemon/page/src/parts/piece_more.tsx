// What happens to a piece more rarely, and how it dried so far.
import type { JSX } from "preact";
import type { Piece, Vehicle } from "../data/api";
import { Course } from "./course";
import { Bond } from "./cut";
import { Heat } from "./heat";
import type { When } from "./late";
import { leftOut, type Step, stepsOf } from "./steps";
import { sentence, type Words } from "../words/words";

export function PieceMore(props: { vehicle: Vehicle; piece: Piece; words: Words; when: When }): JSX.Element {
  const { vehicle, piece, words, when } = props;
  const name = words.piece(piece);
  const opened = words.say("vehicle.event-edge-opened");
  const hidden = leftOut(piece);
  const open = stepsOf(piece).filter((step) => step.event && step.mark !== "done");
  const need = (which: Step["which"], needed: boolean): void => {
    const values = { step: words.step(which), needed: needed ? "yes" : "no" };
    when.tell({ what: "not-needed", piece: piece.id, which, needed }, words.about(name, words.say("vehicle.event-not-needed", values)));
  };
  return (
    <>
      <Course vehicle={vehicle} piece={piece} words={words} />
      <details class="deed">
        <summary>{words.say("vehicle.more-piece")}</summary>
        <p class="two">
          <button type="button" onClick={() => when.tell({ what: "edge-opened", piece: piece.id }, words.about(name, opened))}>
            {sentence(opened)}
          </button>
          {open.map(({ which }) => (
            <button type="button" key={which} onClick={() => need(which, false)}>
              {words.say("vehicle.not-needed", { step: words.step(which) })}
            </button>
          ))}
          {hidden.map(({ which }) => (
            <button type="button" key={which} onClick={() => need(which, true)}>
              {words.say("vehicle.needed-after-all", { step: words.step(which) })}
            </button>
          ))}
        </p>
        <p class="small">{words.say("vehicle.edge-opened-hint")}</p>
        <Heat piece={piece} name={name} words={words} when={when} />
        <h4>{words.say("vehicle.bond-now")}</h4>
        <Bond piece={piece} words={words} />
        <p class="small">{words.say("vehicle.units", { water: words.say("units.water", { n: words.number(1, 0) }) })}</p>
      </details>
    </>
  );
}
