// Small pieces that several screens are made of.
import type { ComponentChildren, JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import type { Catalogue } from "../data/api";
import { shopNow } from "../data/store";
import type { Mark } from "./steps";
import type { Words } from "../words/words";

// Re-renders as time passes: "in 3 h" must not stand still.
export function useNow(): Date {
  const [, turn] = useState(0);
  useEffect(() => {
    const timer = setInterval(() => turn((count) => count + 1), 10_000);
    return () => clearInterval(timer);
  }, []);
  return shopNow();
}

// A shape for each state, so that colour is never alone: a ticked square, a full drop, an eye, a ring.
export function Shape({ mark }: { mark: Mark }): JSX.Element {
  return (
    <svg class={`shape ${mark}`} viewBox="0 0 20 20" aria-hidden="true">
      {mark === "done" && <path d="M2 2h16v16H2z M5.5 10l3.2 3.4 6-7" />}
      {mark === "ready" && <path d="M10 1c5 6 7 9 7 12a7 6 0 0 1-14 0c0-3 2-6 7-12z" />}
      {mark === "look" && <path d="M1.5 10c4-7 13-7 17 0c-4 7-13 7-17 0z M10 7.6a2.4 2.4 0 1 0 .01 0z" />}
      {mark === "waiting" && <circle cx="10" cy="10" r="7" />}
    </svg>
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

// None, one or several of a few, likewise.
export function Toggles<T extends string>(props: {
  label: string;
  options: { value: T; text: string }[];
  values: T[];
  onChange: (values: T[]) => void;
}): JSX.Element {
  const { label, options, values, onChange } = props;
  return (
    <fieldset class="choice">
      <legend>{label}</legend>
      <div>
        {options.map(({ value, text }) => {
          const on = values.includes(value);
          return (
            <button
              type="button"
              key={value}
              aria-pressed={on}
              onClick={() => onChange(on ? values.filter((one) => one !== value) : [...values, value])}
            >
              {text}
            </button>
          );
        })}
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
