// Small pieces that several screens are made of.
import { type ComponentChildren, type JSX, render } from "preact";
import { useEffect, useLayoutEffect, useRef, useState } from "preact/hooks";
import type { Catalogue } from "../data/api";
import { shopNow } from "../data/store";
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

// A shape for each state, so that colour is never alone.
const signs = {
  ready: { path: "M10 2l8 8-8 8-8-8z", full: true },
  look: { path: "M1.5 10c5-7.5 12-7.5 17 0-5 7.5-12 7.5-17 0z M10 8a2 2 0 1 0 .01 0z" },
  waiting: { path: "M2 4h5l11 12H2z", full: true },
  done: { path: "M2.5 2.5h15v15h-15z M6 10l3 3.3 5.5-6.3" },
  late: { path: "M10 2.5l8.5 15h-17z M10 8v4.5 M10 15v.2" },
  flag: { path: "M4 18.5V2.5h12l-3 4 3 4H4" },
  moon: { path: "M8 2.5a8 8 0 1 0 9.5 9.5A7 7 0 0 1 8 2.5z", full: true },
  wet: { path: "M10 2c4 5 6 7.6 6 10.5a6 5.8 0 0 1-12 0C4 9.6 6 7 10 2z", full: true },
  hazy: { path: "M10 2c4 5 6 7.6 6 10.5a6 5.8 0 0 1-12 0C4 9.6 6 7 10 2z", half: "M4.5 12h11a6 5.8 0 0 1-11 0z" },
  clear: { path: "M10 2c4 5 6 7.6 6 10.5a6 5.8 0 0 1-12 0C4 9.6 6 7 10 2z" },
  lifting: { path: "M2 16h16 M2 13c6 0 9-1 14-9" },
  sound: { path: "M4 10.5l4 4 8-9" },
  redone: { path: "M16 10a6 6 0 1 1-2-4.5 M14.5 1.5v4.5H10" },
} as const satisfies Record<string, { path: string; full?: boolean; half?: string }>;
export type SignName = keyof typeof signs;

export function Sign({ of }: { of: SignName }): JSX.Element {
  const { path, full = false, half = "" }: { path: string; full?: boolean; half?: string } = signs[of];
  return (
    <svg class={`sign ${of}`} viewBox="0 0 20 20" aria-hidden="true">
      <path class={full ? "full" : undefined} d={path} />
      {half && <path class="full" d={half} />}
    </svg>
  );
}

// What a screen is called: heard and focussed when one comes to it, and the name of the window.
let came = false;
export const comesTo = (): void => {
  came = true;
};
export function Title({ children, words }: { children: ComponentChildren; words: Words }): JSX.Element {
  const heading = useRef<HTMLHeadingElement>(null);
  useEffect(() => {
    document.title = words.say("page.title-of", { screen: heading.current?.textContent?.replace(/\s+/g, " ").trim() ?? "", shop: words.site.name });
    if (came) {
      came = false;
      heading.current?.focus({ preventScroll: true });
    }
  });
  return (
    <h2 ref={heading} tabIndex={-1}>
      {children}
    </h2>
  );
}

// Shown above the bars of taps, whatever screen it is on.
export function AtFoot({ children }: { children: ComponentChildren }): null {
  useLayoutEffect(() => {
    const foot = document.getElementById("foot");
    if (foot) {
      render(<>{children}</>, foot);
    }
  });
  useLayoutEffect(
    () => () => {
      const foot = document.getElementById("foot");
      if (foot) {
        render(null, foot);
      }
    },
    [],
  );
  return null;
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
