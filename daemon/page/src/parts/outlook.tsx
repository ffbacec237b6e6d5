// What a piece is ready for, what is worth a look, and when the next step will be.
import type { JSX } from "preact";
import type { Piece, Spread } from "../data/api";
import { useNow } from "./parts";
import { isBeingEstimated, isUnmeasured, nextOf, type Step, stepsOf } from "./steps";
import type { Words } from "../words/words";

// Beside the time at which something will be announced: when it is so as likely as not.
export function likelyWords(probability: number, { likely }: Spread, now: Date, words: Words): string {
  return probability >= 0.5
    ? words.say("vehicle.likely-by-now", { share: words.chance(probability) })
    : likely
      ? words.say("vehicle.likely-from", { when: words.when(likely, now) })
      : "";
}

function readyWords({ which, milestone }: Step, words: Words): string {
  return words.say("vehicle.ready-now", { step: words.step(which), by_word: milestone.by_word ? "yes" : "no" });
}

function Coming({ step, words }: { step: Step; words: Words }): JSX.Element {
  const now = useNow();
  const { announces, expected, probability, held_by } = step.milestone;
  const name = words.step(step.which);
  const none = isUnmeasured([step.milestone]) ? "vehicle.step-no-forecast" : "vehicle.step-beyond";
  return (
    <>
      <p class="next">{announces ? words.say("vehicle.step-coming", { step: name, coming: words.coming(announces, now) }) : words.say(none, { step: name })}</p>
      <p class="why">
        {likelyWords(probability, expected, now, words)}
        <span class="held">{words.sentence(held_by)}</span>
      </p>
    </>
  );
}

// All that may be done now or is worth a look, then what comes next, when, and why not yet.
export function Outlook({ piece, words }: { piece: Piece; words: Words }): JSX.Element {
  const open = stepsOf(piece).filter((step) => step.mark !== "done");
  const unknown = isBeingEstimated(piece);
  const next = nextOf(open);
  const estimate = ({ milestone }: Step): JSX.Element | null =>
    unknown ? null : <small>{words.say("vehicle.estimate", { share: words.chance(milestone.probability) })}</small>;
  return (
    <>
      {open.length === 0 && <p class="next done">{words.say("vehicle.all-done")}</p>}
      {open.map((step) =>
        step.mark === "ready" ? (
          <p class="next ready" key={step.which}>
            {readyWords(step, words)} {step.milestone.by_word && estimate(step)}
          </p>
        ) : step.mark === "look" ? (
          <p class="next look" key={step.which}>
            {words.say("vehicle.worth-a-look", { step: words.step(step.which) })} {estimate(step)}
          </p>
        ) : null,
      )}
      {next && unknown && (
        <>
          <p class="next">{words.say("page.no-estimate")}</p>
          <p class="why">{words.sentence(next.milestone.held_by)}</p>
        </>
      )}
      {next && !unknown && <Coming step={next} words={words} />}
    </>
  );
}
