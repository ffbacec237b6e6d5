// Every step of a piece with its state, in one line.
import type { JSX } from "preact";
import type { Piece } from "../data/api";
import { Sign, useNow } from "./parts";
import { type Step, stepsOf } from "./steps";
import { sentence, type Words } from "../words/words";

export function Chain({ piece, words }: { piece: Piece; words: Words }): JSX.Element {
  const now = useNow();
  const state = ({ mark, milestone }: Step): string =>
    mark === "done" ? "" : mark === "waiting" && milestone.announces ? words.when(milestone.announces, now) : words.say(`vehicle.step-${mark}`);
  return (
    <ol class="chain">
      {stepsOf(piece).map((step) => (
        <li key={step.which} class={step.mark}>
          <Sign of={step.mark} />
          <span>
            {step.mark === "done" && step.event ? sentence(words.done(step.event)) : words.step(step.which)}
            <small> {state(step)}</small>
          </span>
        </li>
      ))}
    </ol>
  );
}
