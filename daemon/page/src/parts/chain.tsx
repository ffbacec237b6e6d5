// Every step of a piece with its state.
import type { JSX } from "preact";
import type { Piece } from "../data/api";
import type { Tell } from "./look";
import { Shape, useNow } from "./parts";
import { leftOut, type Step, stepsOf } from "./steps";
import { sentence, type Words } from "../words/words";

// A step that nobody will do is one tap away from being left out, and from coming back.
export function Chain({ piece, words, tell }: { piece: Piece; words: Words; tell: Tell }): JSX.Element {
  const now = useNow();
  const hidden = leftOut(piece);
  const state = ({ mark, milestone }: Step): string =>
    mark === "done" ? "" : mark === "waiting" && milestone.announces ? words.when(milestone.announces, now) : words.say(`vehicle.step-${mark}`);
  const name = (step: Step): JSX.Element => (
    <>
      <Shape mark={step.mark} />
      <span>
        {step.mark === "done" && step.event ? sentence(words.done(step.event)) : words.step(step.which)}
        <small> {state(step)}</small>
      </span>
    </>
  );
  const need = (which: Step["which"], needed: boolean): void => {
    const values = { step: words.step(which), needed: needed ? "yes" : "no" };
    tell({ what: "not-needed", piece: piece.id, which, needed }, words.about(words.piece(piece), words.say("vehicle.event-not-needed", values)));
  };
  return (
    <>
      <ol class="chain">
        {stepsOf(piece).map((step) => (
          <li key={step.which} class={step.mark}>
            {step.event && step.mark !== "done" ? (
              <details>
                <summary>{name(step)}</summary>
                <button type="button" onClick={() => need(step.which, false)}>
                  {words.say("vehicle.not-needed", { step: words.step(step.which) })}
                </button>
              </details>
            ) : (
              name(step)
            )}
          </li>
        ))}
      </ol>
      {hidden.length > 0 && (
        <details class="deed">
          <summary>{words.say("vehicle.left-out", { count: hidden.length })}</summary>
          <p class="actions">
            {hidden.map(({ which }) => (
              <button type="button" key={which} onClick={() => need(which, true)}>
                {words.say("vehicle.needed-after-all", { step: words.step(which) })}
              </button>
            ))}
          </p>
        </details>
      )}
    </>
  );
}
