// Small pieces that several screens are made of.
import type { ComponentChildren, JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import type { Catalogue, Milestone, Piece, Vehicle, Which } from "../data/api";
import { shopNow } from "../data/store";
import { sentence, steps, type Words } from "../words/words";

// Re-renders as time passes: "in 3 h" must not stand still.
export function useNow(): Date {
  const [, turn] = useState(0);
  useEffect(() => {
    const timer = setInterval(() => turn((count) => count + 1), 10_000);
    return () => clearInterval(timer);
  }, []);
  return shopNow();
}

export type Mark = "done" | "ready" | "waiting";

// A shape for each state, so that colour is never alone: a ticked square, a full drop, a ring.
export function Shape({ mark }: { mark: Mark }): JSX.Element {
  return (
    <svg class={`shape ${mark}`} viewBox="0 0 20 20" aria-hidden="true">
      {mark === "done" && <path d="M2 2h16v16H2z M5.5 10l3.2 3.4 6-7" />}
      {mark === "ready" && <path d="M10 1c5 6 7 9 7 12a7 6 0 0 1-14 0c0-3 2-6 7-12z" />}
      {mark === "waiting" && <circle cx="10" cy="10" r="7" />}
    </svg>
  );
}

export interface Step {
  mark: Mark;
  which: Which;
  event: (typeof steps)[number]["event"];
}

export const laidNow = (vehicle: Vehicle): Piece[] =>
  vehicle.pieces.filter((piece) => !piece.removed && piece.replaced_by === null);

export const milestoneOf = (piece: Piece, which: Which): Milestone | undefined => piece.milestones.find((one) => one.which === which);

export function stepsOf(piece: Piece): Step[] {
  return steps.map(({ which, event, at }) => {
    const milestone = milestoneOf(piece, which);
    const done = at ? piece[at] !== null : milestone?.announced != null;
    return { mark: done ? "done" : milestone?.announced ? "ready" : "waiting", which, event };
  });
}

// The first step that has not been done: what the installer waits for.
export const nextStep = (piece: Piece): Step | undefined => stepsOf(piece).find((step) => step.mark !== "done");

export function Chain({ piece, words }: { piece: Piece; words: Words }): JSX.Element {
  return (
    <ol class="chain">
      {stepsOf(piece).map((step) => (
        <li key={step.which} class={step.mark}>
          <Shape mark={step.mark} />
          <span>
            {step.mark === "done" ? sentence(words.stepDone(step.which)) : words.step(step.which)}
            {step.mark !== "done" && <small> {words.say(`vehicle.step-${step.mark}`)}</small>}
          </span>
        </li>
      ))}
    </ol>
  );
}

// An announcement stands until somebody sees otherwise; below this it is said that the estimate has fallen since.
const still_sure = 0.85;

// "in 3 h (Sat 07:40)", its spread, and why.
export function Outlook({ piece, words }: { piece: Piece; words: Words }): JSX.Element | null {
  const now = useNow();
  const step = nextStep(piece);
  if (!step) {
    return <p class="next done">{words.say("vehicle.all-done")}</p>;
  }
  const milestone = milestoneOf(piece, step.which);
  if (!milestone) {
    return null;
  }
  if (piece.state.zones.length === 0) {
    return <p class="next">{words.say("page.no-estimate")}</p>;
  }
  const name = words.step(step.which);
  const share = words.share(milestone.probability);
  if (step.mark === "ready" && milestone.announced) {
    return (
      <>
        <p class="next ready">{words.say("vehicle.ready-now", { step: name })}</p>
        {milestone.probability < still_sure && (
          <p class="why">{words.say("vehicle.fallen", { since: words.when(milestone.announced, now), share })}</p>
        )}
      </>
    );
  }
  const { likely } = milestone.expected;
  return (
    <>
      <p class="next">
        {milestone.probability >= 0.5
          ? words.say("vehicle.likely-by-now", { step: name, share })
          : likely
            ? words.say("vehicle.step-coming", { step: name, coming: words.coming(likely, now) })
            : words.say("vehicle.step-beyond", { step: name })}
      </p>
      <p class="why">
        {words.between(milestone.expected, now)}
        <span class="held">{words.sentence(milestone.held_by)}</span>
      </p>
    </>
  );
}

export function Caution({ children }: { children: ComponentChildren }): JSX.Element {
  return (
    <p class="caution">
      <svg viewBox="0 0 20 20" aria-hidden="true">
        <path d="M10 2l9 16H1z M10 8v5 M10 15v1" />
      </svg>
      <span>{children}</span>
    </p>
  );
}

export function Back({ to, children }: { to: string; children: ComponentChildren }): JSX.Element {
  return (
    <a class="back" href={to}>
      <span aria-hidden="true">‹</span> {children}
    </a>
  );
}

// One of a few, as buttons that fit a thumb.
export function Choice<T extends string>(props: {
  label: string;
  options: { value: T; text: string }[];
  value: T;
  onChoose: (value: T) => void;
}): JSX.Element {
  return (
    <fieldset class="choice">
      <legend>{props.label}</legend>
      <div>
        {props.options.map((option) => (
          <label key={option.value}>
            <input
              type="radio"
              name={props.label}
              checked={option.value === props.value}
              onChange={() => props.onChoose(option.value)}
            />
            <span>{option.text}</span>
          </label>
        ))}
      </div>
    </fieldset>
  );
}

export function Pick(props: {
  label: string;
  options: { key: string; label: string }[];
  value: string;
  onPick: (key: string) => void;
}): JSX.Element {
  return (
    <label class="field">
      <span>{props.label}</span>
      <select value={props.value} onChange={(event) => props.onPick(event.currentTarget.value)}>
        {props.options.map((option) => (
          <option key={option.key} value={option.key}>
            {option.label}
          </option>
        ))}
      </select>
    </label>
  );
}

export function FilmPick(props: { catalogue: Catalogue; value: string; words: Words; onPick: (key: string) => void }): JSX.Element {
  const { catalogue, value, words, onPick } = props;
  const options = catalogue.films.map(({ key }) => ({ key, label: words.film(key) }));
  return <Pick label={words.say("lay.film")} options={options} value={value} onPick={onPick} />;
}
