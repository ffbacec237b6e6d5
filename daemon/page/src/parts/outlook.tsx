// What a piece is ready for, what is worth a look, and when the next step will be, and why not yet.
import type { JSX } from "preact";
import type { Piece, Spread, Vehicle } from "../data/api";
import { lineOf } from "./lines";
import { Sign, useNow } from "./parts";
import { isBeingEstimated, isUnmeasured, nextOf, type Step, stepsOf } from "./steps";
import type { Words } from "../words/words";

// Beside the time at which something will be announced: when it is so perhaps, and as likely as not.
export function likelyWords(probability: number, { early, likely }: Spread, now: Date, words: Words): string {
  if (probability >= 0.5) {
    return words.say("vehicle.likely-by-now", { share: words.chance(probability) });
  }
  if (!likely) {
    return "";
  }
  const ahead = early !== null && Date.parse(early) > now.getTime() && words.when(early, now) !== words.when(likely, now);
  return ahead
    ? words.say("vehicle.perhaps-from", { early: words.when(early, now), likely: words.when(likely, now) })
    : words.say("vehicle.likely-from", { when: words.when(likely, now) });
}

function Coming({ step, words }: { step: Step; words: Words }): JSX.Element {
  const now = useNow();
  const { announces, expected, probability, held_by } = step.milestone;
  const name = words.step(step.which);
  const none = isUnmeasured([step.milestone]) ? "vehicle.step-no-forecast" : "vehicle.step-beyond";
  const likely = likelyWords(probability, expected, now, words);
  const why = words.sentence(held_by);
  return (
    <>
      <p class="next">{announces ? words.say("vehicle.step-coming", { step: name, when: words.when(announces, now) }) : words.say(none, { step: name })}</p>
      {likely && <p class="likely-from">{likely}</p>}
      {why && (
        <p class="why">
          <b>{words.say("vehicle.why-not-yet")}</b> <span class="held">{why}</span>
        </p>
      )}
    </>
  );
}

// All that may be done now or is worth a look, then what comes next, when, and why not yet.
export function Outlook({ vehicle, piece, words }: { vehicle: Vehicle; piece: Piece; words: Words }): JSX.Element {
  const now = useNow();
  const open = stepsOf(piece).filter((step) => step.mark !== "done");
  const unknown = isBeingEstimated(piece);
  const next = nextOf(open);
  const { late, at } = lineOf(vehicle, piece);
  const estimate = ({ milestone }: Step): JSX.Element | null =>
    unknown ? null : <small>{words.say("vehicle.estimate", { share: words.chance(milestone.probability) })}</small>;
  return (
    <>
      {open.length === 0 && <p class="next done">{words.say("vehicle.all-done")}</p>}
      {open.map((step) =>
        step.mark === "ready" ? (
          <p class="next ready" key={step.which}>
            <Sign of="ready" /> {words.say("vehicle.ready-now", { step: words.step(step.which), by_word: step.milestone.by_word ? "yes" : "no" })}{" "}
            {step.milestone.by_word && estimate(step)}
          </p>
        ) : step.mark === "look" ? (
          <p class="next look" key={step.which}>
            <Sign of="look" /> {words.say("vehicle.worth-a-look", { step: words.step(step.which) })} {estimate(step)}
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
      {late && at !== null && vehicle.hand_over && (
        <p class="late">
          <Sign of="late" /> {words.say("board.after-agreed", { span: words.roughly(at - Date.parse(vehicle.hand_over)), when: words.when(vehicle.hand_over, now) })}{" "}
          <a class="inline" href={`#/bay/${encodeURIComponent(vehicle.bay)}`}>
            {words.say("board.see-tonight")}
          </a>
        </p>
      )}
    </>
  );
}
