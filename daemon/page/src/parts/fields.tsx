// Fields of forms. A number is typed with comma or point: what the daemon would not take is said beside it.
import type { JSX, RefObject } from "preact";
import { useEffect, useRef } from "preact/hooks";
import { typedNumber, type Words } from "../words/words";

type Field = RefObject<HTMLInputElement | null>;

// Opens what it is folded away in.
export function showField(field: Field): void {
  field.current?.closest("details")?.setAttribute("open", "");
  field.current?.focus();
}

interface Bounds {
  low: number;
  high: number;
}
// What may be typed, and how such a number is read and written.
export interface Limits extends Bounds {
  read: (text: string) => number | null;
  write: (value: number) => string;
}
export const plainLimits = (bounds: Bounds, words: Words): Limits => ({ ...bounds, read: typedNumber, write: (value) => words.number(value, 4) });
// In C; typed and written in this phone's degrees.
export const celsiusLimits = (bounds: Bounds, words: Words): Limits => ({
  ...bounds,
  read: (text) => words.celsius(text),
  write: (value) => words.temperature(value),
});

// What was typed; null where that is nothing, or is not taken.
export function numberWithin(text: string, { low, high, read }: Limits): number | null {
  const value = read(text);
  return value !== null && value >= low && value <= high ? value : null;
}
export const isWrong = (text: string, limits: Limits): boolean => text.trim() !== "" && numberWithin(text, limits) === null;

interface Props {
  label: string;
  text: string;
  limits: Limits;
  words: Words;
  onInput: (text: string) => void;
  required?: boolean;
  field?: Field; // for whoever wants to show it
}

export function NumberField({ label, text, limits, words, onInput, required = false, field }: Props): JSX.Element {
  const own = useRef<HTMLInputElement>(null);
  const input = field ?? own;
  const { low, high, write } = limits;
  const wrong = isWrong(text, limits) ? words.say("page.number-between", { low: write(low), high: write(high) }) : "";
  useEffect(() => input.current?.setCustomValidity(wrong), [wrong]);
  return (
    <label class="field">
      <span>{label}</span>
      <input ref={input} inputMode="decimal" required={required} value={text} onInput={(event) => onInput(event.currentTarget.value)} />
      {wrong !== "" && <small role="alert">{wrong}</small>}
    </label>
  );
}
